#pragma once

#include <optional>
#include <string>

#include "apps/cli/inputs/dry_run.hpp"
#include "apps/cli/inputs/setting.hpp"
#include "formats/brief_json.hpp"

namespace glidewright {

inline constexpr const char* k_usual_standard = "us-commercial-power-off-180";

/// Over what the plan is made and how thoroughly, as typed; what was not given is empty.
struct BriefOdds {
  std::string scatter;  ///< a JSON file
  std::optional<double> flights;
  std::optional<double> seed;
  bool quick = false;  ///< fewer flights, no search and a coarser band, for a picture that follows the hand
  bool left_out = false;  ///< of the quick plan nothing but the picture: no odds, no rules, no sensitivities
};

/// Everything that a plan is asked with, before it is made.
struct AskedBrief {
  Brief brief;  ///< without an answer
  Setting setting;
};
Result<AskedBrief> ask_brief(const SettingOptions& options, const std::string& standard_file_or_id,
                             const BriefOdds& odds = {});

/// Plans with these inputs, corrected by the dry run where one is given; standard: file or id, the usual one
/// where empty. `more_obstacles`: beside those of the runway.
Result<Brief> make_brief(const SettingOptions& options, const std::string& standard_file_or_id,
                         const DryRunOptions& dry_run = {}, const BriefOdds& odds = {},
                         const std::vector<Obstacle>& more_obstacles = {});

}  // namespace glidewright

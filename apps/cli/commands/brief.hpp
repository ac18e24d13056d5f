#pragma once

#include <string>

#include "apps/cli/inputs/dry_run.hpp"
#include "apps/cli/inputs/setting.hpp"
#include "formats/brief_json.hpp"

namespace glidewright {

inline constexpr const char* k_usual_standard = "us-commercial-power-off-180";

/// Quick: fewer flights and a coarser band, for a picture that follows the hand.
enum class PlanCare { full, quick };

/// Plans with these inputs, corrected by the dry run where one is given; standard: file or id, the usual one
/// where empty.
Result<Brief> make_brief(const SettingOptions& options, const std::string& standard_file_or_id,
                         const DryRunOptions& dry_run = {}, PlanCare care = PlanCare::full);

}  // namespace glidewright

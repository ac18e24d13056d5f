#pragma once
// A landing flown before the one that is planned: as the instructor tells it, or as a track log shows it.

#include <optional>
#include <string>

#include "apps/cli/inputs/setting.hpp"
#include "engine/plan/dry_run.hpp"

namespace glidewright {

/// As typed; nothing typed, no dry run.
struct DryRunOptions {
  std::optional<double> landed_ft;
  std::string power;
  std::optional<double> base_turn_s;
  std::string log;
  std::string height_unit;  ///< of the log
  std::optional<double> attempt;

  bool given() const { return landed_ft.has_value() || !log.empty(); }
};

struct DryRunRead {
  std::string source;  ///< "as told", or the log and the attempt
  DryRun flown;
};

/// From the log everything that was not told: where it landed, whether there was power, the base turn, the
/// wind.
Result<DryRunRead> read_dry_run(const DryRunOptions& options, const Setting& setting);

}  // namespace glidewright

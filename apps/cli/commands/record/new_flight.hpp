#pragma once

#include <string>

#include "apps/cli/commands/debrief.hpp"
#include "store/values.hpp"

namespace glidewright {

/// Debriefs the log in `file` as the records keep it: its bytes, and each attempt judged by one standard,
/// whose text goes along. `log_name`: as it is kept.
Result<NewFlight> new_flight(const std::string& file, const std::string& log_name, DebriefOptions options,
                             const StandardFile& standard);

}  // namespace glidewright

#pragma once

#include <string>

#include "apps/cli/commands/debrief.hpp"
#include "store/values.hpp"

namespace glidewright {

/// Debriefs the log in `file` as the records keep it: its bytes, and each attempt judged by one standard.
/// `log_name`: as it is kept. `standard`: a file or an id, empty for the usual one, which is called
/// `standard_id`.
Result<NewFlight> new_flight(const std::string& file, const std::string& log_name, DebriefOptions options,
                             const std::string& standard, const std::string& standard_id);

}  // namespace glidewright

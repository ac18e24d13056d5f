#pragma once

#include <string>

#include "apps/cli/commands/debrief.hpp"
#include "apps/cli/exit_code.hpp"

namespace glidewright {

/// Debriefs every file of the folders on all cores: a row for each attempt, or one JSON object. What cannot
/// be debriefed is named with its reason and does not stop the rest.
///
/// journal: a file to which each log's row goes as it is done, and from which rows are taken that were done
/// before with the same log and the same options; empty for none.
ExitCode debrief_folders(const DebriefOptions& options, const std::string& journal, bool json);

}  // namespace glidewright

#pragma once
// How somebody on the page asks for a log's debrief. It comes over the network: it names no files.

#include <string>

#include "apps/server/parts.hpp"
#include "store/values.hpp"

namespace glidewright {

/// Debriefs bytes as `asked` says, a JSON object (docs/schema/log-asked.json). Errors name the log, not the
/// place where it lay meanwhile.
Result<NewFlight> debrief_as_asked(const std::string& log_name, const std::string& log_bytes,
                                   const std::string& asked, const KnownToRecords& known);

/// What is wrong with `asked`; empty where nothing is.
std::string wrong_with_asked(const std::string& asked);

}  // namespace glidewright

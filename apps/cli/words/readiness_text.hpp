#pragma once

#include <string>

#include "apps/cli/words/page.hpp"
#include "formats/readiness_json.hpp"

namespace glidewright {

/// What the logs prove, instructor to instructor. Not yet `printed`.
std::string readiness_text(const ReadinessOfLogs& result, const Page& page);

}  // namespace glidewright

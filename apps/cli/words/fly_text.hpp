#pragma once

#include <string>

#include "apps/cli/words/page.hpp"
#include "formats/fly_json.hpp"

namespace glidewright {

/// The key points of one flown approach as a table. Not yet `printed`.
std::string fly_text(const FlownApproach& flown, const Page& page);

}  // namespace glidewright

#pragma once

#include <string>

#include "apps/cli/words/page.hpp"
#include "formats/polar_json.hpp"

namespace glidewright {

/// What the profile's numbers make of the airplane, or which of them do not go together. Not yet `printed`.
std::string polar_text(const PolarSheet& asked, const Page& page);

}  // namespace glidewright

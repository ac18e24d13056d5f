#pragma once

#include <string>

#include "apps/cli/words/page.hpp"
#include "formats/fit_json.hpp"

namespace glidewright {

/// What the glides told of the airplane, before and after.
std::string fit_text(const FitReport& report, const Page& page);

}  // namespace glidewright

#pragma once

#include <string>

#include "apps/cli/words/page.hpp"
#include "formats/band_json.hpp"

namespace glidewright {

/// From where the point can be made, place by place. Not yet `printed`.
std::string band_text(const BandOfPlan& asked, const Page& page);

}  // namespace glidewright

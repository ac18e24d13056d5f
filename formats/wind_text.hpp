#pragma once
// The wind as a pilot writes it.

#include <string_view>

#include "engine/air/wind.hpp"
#include "formats/result.hpp"

namespace glidewright {

/// "240/12" (from 240 degrees true, 12 kt at 10 m), "240/12G18" with gusts to 18, "calm" or "00000".
/// Direction 0 to 360, speeds 0 to 99 kt, the gust above the speed. Only at_10m and gust of the profile are
/// set.
Result<WindProfile> read_wind_text(std::string_view text);

}  // namespace glidewright

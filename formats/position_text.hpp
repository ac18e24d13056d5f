#pragma once
// A place from two pieces of text, with the sentence for what is wrong.

#include <optional>
#include <string>
#include <string_view>

#include "engine/track/runway.hpp"

namespace glidewright {

/// Decimal degrees, latitude -90 to 90, longitude -180 to 180 (180 is read as -180).
/// None, with the sentence in `why` ("latitude 98.2; expected -90 to 90"), for anything else.
std::optional<Geodetic> read_position(std::optional<double> latitude, std::string_view latitude_text,
                                      std::optional<double> longitude, std::string_view longitude_text,
                                      std::string& why);

}  // namespace glidewright

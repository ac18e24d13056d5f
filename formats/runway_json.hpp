#pragma once
// Runways: as a JSON file, and as one line of text.

#include <string_view>
#include <vector>

#include "engine/track/runway.hpp"
#include "formats/json_reader.hpp"
#include "formats/result.hpp"

namespace glidewright {

/// Reads `glidewright.runway/1`: airfield, designator, threshold_latitude_deg, threshold_longitude_deg,
/// true_bearing_deg, elevation_ft, length_ft, and where wanted width_ft, displaced_ft, position_sd_ft,
/// slope_percent, obstacles. The place is the beginning of the pavement and length_ft all of it; a displaced
/// threshold (displaced_ft past the beginning) moves the landing threshold and shortens the landing length.
Result<Runway> read_runway_json(std::string_view bytes, std::string_view name);

/// A runway's list `obstacles`, at most 50: each before_threshold_ft (of the landing threshold; past it
/// negative), right_of_centreline_ft (left negative), top_above_threshold_ft and where wanted what.
std::vector<RunwayObstacle> read_obstacles(JsonFields& runway);

/// "lat,lon,true-bearing,elevation-ft,length-ft" of the landing threshold, such as
/// "52.4012,-0.3157,243,82,3280". Blanks are allowed round each.
Result<Runway> read_runway_text(std::string_view text);

}  // namespace glidewright

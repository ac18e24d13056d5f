#pragma once
// GPX track logs.

#include <string_view>

#include "engine/track/log.hpp"
#include "formats/result.hpp"

namespace glidewright {

/// Track points of GPX 1.1 or 1.0: lat and lon in decimal degrees (WGS 84), ele in metres, time in UTC; a new
/// trkseg is a new segment, because that is how the format tells a lost signal. Elements named speed (m/s)
/// and course (degrees true) are kept where they stand, in GPX 1.0's place or inside extensions of any
/// prefix. Waypoints and routes are passed over. A file that ends early gives what stands before, with a
/// note. sha256 stays empty. Source: GPX 1.1 schema, wptType, trksegType.
Result<TrackLog> read_gpx(std::string_view bytes, std::string_view name);

}  // namespace glidewright

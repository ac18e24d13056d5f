#pragma once
// Track logs written out, for other programs: what was read, repairs made, nothing smoothed.

#include <string>
#include <string_view>

#include "engine/track/log.hpp"

namespace glidewright {

/// GPX 1.1, a segment as a trkseg, altitude in metres above mean sea level; speed (m/s) and course (degrees
/// true) as extensions, where read_gpx finds them. The panel is left out. Rounded to 1e-8 deg (1 mm), 1 mm, 1
/// ms, 0.001 m/s, 0.01 deg. Source: GPX 1.1 schema.
std::string write_gpx(const TrackLog& log);

/// The columns that read_csv knows, with their units, as far as anything was recorded: positions, the segment
/// where there is more than one, the panel. One row for each time. Rounded to 1e-8 deg (1 mm), 0.001 ft, 1
/// ms, 0.001 kt, 0.01 deg and C.
std::string write_csv(const TrackLog& log);

/// GeoJSON: a feature for each segment, a line where it has two fixes or more, altitude in metres above mean
/// sea level as recorded (the standard would have it above the ellipsoid, which few logs tell); times, ground
/// speed and course as lists beside it. The panel is left out. Rounded as GPX. Source: RFC 7946.
std::string write_geojson(const TrackLog& log);

}  // namespace glidewright

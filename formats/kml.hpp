#pragma once
// KML track logs.

#include <string_view>

#include "engine/track/log.hpp"
#include "formats/result.hpp"

namespace glidewright {

/// Tracks of OGC KML 2.3 (Track, MultiTrack) and of the gx extension before it: as many `when` as `coord`,
/// longitude first, altitude in metres above mean sea level where altitudeMode is absolute. Each Track is a
/// segment of its own. A path without times (LineString) is no log: a sentence says so. sha256 stays empty.
/// Source: OGC KML 2.3 (12-007r2), 9.17 Track.
Result<TrackLog> read_kml(std::string_view bytes, std::string_view name);

}  // namespace glidewright

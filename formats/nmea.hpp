#pragma once
// NMEA 0183 logs: what a receiver said, line by line.

#include <string_view>

#include "engine/track/log.hpp"
#include "formats/result.hpp"

namespace glidewright {

/// GGA, RMC, VTG and ZDA of any talker become one fix for each time of day. A sentence whose checksum does
/// not agree is dropped, one without a checksum is taken. Altitude above mean sea level, speed in knots,
/// course true. The date comes from RMC or ZDA; sentences before the first date, and receivers that never
/// tell one, count from its day, or from 1970-01-01 with a note. Whatever else stands in the file is passed
/// over. sha256 stays empty. Source: NMEA 0183, sentences as widely published.
Result<TrackLog> read_nmea(std::string_view bytes, std::string_view name);

/// Is one GGA or RMC that has a place, and a checksum that agrees or none.
bool tells_a_place(std::string_view sentence);

/// Has a sentence with a place near its beginning.
bool looks_like_nmea(std::string_view bytes);

}  // namespace glidewright

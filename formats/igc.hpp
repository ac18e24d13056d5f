#pragma once
// IGC flight-recorder logs.

#include <string_view>

#include "engine/track/log.hpp"
#include "formats/result.hpp"

namespace glidewright {

/// B records of an FAI IGC file: UTC of the day in HFDTE (either spelling), place to 0.001 minutes (finer
/// where the I record adds LAD, LOD), fractions of a second where it adds TDS. Times that fall back by more
/// than half a day have passed midnight. The satellite altitude becomes the fix's; it is above the ellipsoid,
/// which a note says. The pressure altitude (to 1013.25 hPa), and IAS where the I record adds it, become
/// panel columns that share the log's clock; where no satellite altitude was recorded the pressure altitude
/// takes its place. sha256 stays empty. Source: FAI Sporting Code section 3, technical specification for IGC
/// flight recorders, appendix A.
Result<TrackLog> read_igc(std::string_view bytes, std::string_view name);

/// Begins like one: a date header, or an A record followed by B records.
bool looks_like_igc(std::string_view bytes);

}  // namespace glidewright

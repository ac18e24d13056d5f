#pragma once
// Heights that make sense in the other unit only.

#include <optional>
#include <string>

#include "engine/track/log.hpp"
#include "engine/track/runway.hpp"
#include "engine/track/smooth.hpp"

namespace glidewright {

enum class RunwayElevation { known, from_the_log };

/// The file's heights taken in another unit would be those of a flight; as they were taken they are none.
struct HeightUnitDoubt {
  HeightUnit rather = HeightUnit::feet;
  std::string
      because;  ///< a clause: "as they are, the last minute before landing falls 1 ft in 2.4 ft flown"
};

/// Offered to whoever knows the device, never applied. Judged by what every landing has: how steeply its last
/// minute comes down, how high the airplane gets at all, and the altitude at which it rolls where the
/// runway's is known. None where the log never rolls on this runway, and where either unit would do.
///
/// track: of this log, on the runway of the frame.
std::optional<HeightUnitDoubt> doubt_height_unit(const TrackLog& log, const SmoothTrack& track,
                                                 const RunwayFrame& frame, RunwayElevation elevation);

}  // namespace glidewright

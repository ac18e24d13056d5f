#pragma once

#include <optional>
#include <string>

#include "engine/debrief/debrief.hpp"
#include "engine/track/height_unit.hpp"

namespace glidewright {

/// How much this log can carry, with reasons in plain words.
LogQuality judge_log(const TrackLog& log, const SmoothTrack& track,
                     const std::optional<HeightUnitDoubt>& height_unit);

/// What is wrong, and which option mends it: "heights make sense only as ...".
std::string height_unit_words(const HeightUnitDoubt& doubt);

}  // namespace glidewright

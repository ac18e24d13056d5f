#pragma once

#include "engine/debrief/debrief.hpp"

namespace glidewright {

/// How much this log can carry, with reasons in plain words.
LogQuality judge_log(const TrackLog& log, const SmoothTrack& track);

}  // namespace glidewright

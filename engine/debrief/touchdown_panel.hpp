#pragma once
// What the panel adds to a landing's evidence: the barometer's height, the headwind on short final, the
// pitch.

#include "engine/debrief/touchdown_evidence.hpp"

namespace glidewright::touchdown {

/// Stretches of the landing, seconds after the rough time.
struct LandingWindow {
  double from_s = 0.0;
  double descent_s = 0.0;  ///< through 16 ft above the rollout
  double to_s = 0.0;
  double heights_to_s = 0.0;
};

/// Puts the panel's readings in place of what the satellite says less well. Does nothing where the panel is
/// silent or too seldom around the landing.
void add_panel(const TrackLog& log, const RunwayFrame& frame, double rough_time_unix_s,
               const TouchdownPrior& prior, const LandingWindow& window, LandingEvidence& evidence);

}  // namespace glidewright::touchdown

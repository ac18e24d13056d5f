#pragma once
// Wind from ground velocity through the turns of a pattern.

#include <optional>

#include "engine/air/wind.hpp"
#include "engine/track/attempts.hpp"
#include "engine/track/recorded_airspeed.hpp"
#include "engine/track/smooth.hpp"

namespace glidewright {

/// Wind 10 m above the point, with a power law above it.
struct WindEstimate {
  double from_true_deg = 0.0;
  double from_sd_deg = 180.0;
  double speed_kt = 0.0;
  double speed_sd_kt = 0.0;
  double headwind_kt = 0.0;  ///< along the runway, positive against the landing
  double headwind_sd_kt = 0.0;
  double crosswind_from_right_kt = 0.0;
  double crosswind_sd_kt = 0.0;
  double exponent = 1.0 / 7.0;  ///< of the power law over height that the estimate was made with
};

/// What is believed before the log is looked at.
struct WindPrior {
  std::optional<WindProfile> reported;  ///< a report: +-3 kt; none: calm +-10 kt
  double usual_airspeed_kt = 70.0;      ///< true, in the glide; held to within a few knots by a pilot
  double usual_airspeed_sd_kt = 6.0;
  RecordedAirspeed recorded;  ///< of the panel, calibrated
  double true_over_calibrated = 1.0;
};

/// Air speed changes slowly, ground velocity turns with the airplane: the difference is the wind.
/// Uses the whole pattern from the climb-out to the gate of each attempt.
WindEstimate estimate_wind(const SmoothTrack& track, const std::vector<Attempt>& attempts,
                           const RunwayFrame& frame, const WindPrior& prior);

}  // namespace glidewright

#pragma once
// Where the wheels touched, as a distribution: height, speed and the physics of float and rollout together.

#include <optional>
#include <string>
#include <vector>

#include "engine/accelerometer/clock.hpp"
#include "engine/track/attempts.hpp"
#include "engine/track/log.hpp"
#include "engine/track/runway.hpp"
#include "engine/track/smooth.hpp"

namespace glidewright {

/// What is known beside the log.
struct TouchdownPrior {
  double headwind_kt = 0.0;  ///< at 10 m, along the runway
  double headwind_sd_kt = 8.0;
  double stall_speed_landing_kcas = 47.0;  ///< at the weight of the day, landing flap
  double stall_speed_sd_kt = 3.0;
  double density_ratio = 1.0;
  double runway_position_sd_ft = 5.0;
};

/// One weighted place of the distribution.
struct WeightedPlace {
  double along_ft = 0.0;
  double weight = 0.0;  ///< weights sum to 1
};

struct Touchdown {
  double time_unix_s = 0.0;  ///< median of the first contact of a main wheel
  double time_sd_s = 0.0;
  double along_ft = 0.0;  ///< median
  double low95_ft = 0.0;
  double high95_ft = 0.0;
  double cross_ft = 0.0;
  double groundspeed_kt = 0.0;
  std::string basis;  ///< in words: what decided it, and why the interval is as wide as it is
  std::vector<WeightedPlace> distribution;  ///< sorted by along

  /// Probability that the first contact lies in [low, high], ends included.
  double probability_between(double low_ft, double high_ft) const;
  /// Standard deviation of a normal place with an interval as wide as this one.
  double along_sd_ft() const;
};

/// Posterior of the first contact near `rough_time` (within about 25 s).
///
/// Uses the raw fixes (not the smoothed ones, whose errors are correlated) within the landing, re-zeroed on
/// the rollout. Without a rollout (touch-and-go, log ends) the evidence that is missing widens the interval.
Touchdown locate_touchdown(const TrackLog& log, const RunwayFrame& frame, const SmoothTrack& track,
                           double rough_time_unix_s, const TouchdownPrior& prior);

/// The same where the moment is known, to `time_sd_s`: only the place is left to find.
Touchdown touchdown_at_moment(const TrackLog& log, const RunwayFrame& frame, const SmoothTrack& track,
                              double time_unix_s, double time_sd_s, const TouchdownPrior& prior);

/// The touchdown with what a phone felt, or why that was left out.
struct FeltTouchdown {
  std::optional<Touchdown> touchdown;
  double bounce_probability = 0.0;  ///< that the wheels left the ground once more
  std::string left_out_because;
};

/// Like locate_touchdown, with an accelerometer whose clock is known as well as `clock` says.
FeltTouchdown touchdown_as_felt(const TrackLog& log, const RunwayFrame& frame, const SmoothTrack& track,
                                double rough_time_unix_s, const TouchdownPrior& prior,
                                const AccelerometerLog& felt, const ClockOffset& clock);

}  // namespace glidewright

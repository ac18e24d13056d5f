#pragma once
// Fixed-interval smoother: positions in, position and velocity with their uncertainty out.

#include <vector>

#include "engine/track/log.hpp"
#include "engine/track/runway.hpp"

namespace glidewright {

/// What the antenna did at one moment, in the runway frame; standard deviations beside the values.
struct TrackState {
  double time_unix_s = 0.0;
  double along_ft = 0.0;
  double cross_ft = 0.0;
  double height_ft = 0.0;  ///< above the touchdown point, of the wheels (antenna height removed)
  double along_fps = 0.0;
  double cross_fps = 0.0;
  double climb_fps = 0.0;
  double along_fps2 = 0.0;
  double cross_fps2 = 0.0;
  double climb_fps2 = 0.0;
  double place_sd_ft = 0.0;  ///< of along and of cross, each
  double speed_sd_fps = 0.0;
  double height_sd_ft = 0.0;
  double climb_sd_fps = 0.0;

  double groundspeed_kt() const;
  /// Course over the ground, true, [0, 360).
  double course_true_deg(Degrees runway_bearing) const;
};

/// Noise of the recording device; the defaults are a consumer satellite receiver's.
struct DeviceNoise {
  double place_white_ft = 1.0;   ///< each axis, independent from fix to fix
  double place_wander_ft = 5.0;  ///< slow part, each axis
  double height_white_ft = 1.6;
  double height_wander_ft = 8.0;
};

struct SmoothTrack {
  std::vector<TrackState> states;  ///< one per fix, same times as the log
  double rate_hz = 0.0;            ///< median
  double height_shift_ft = 0.0;    ///< added to the device's altitudes so that the rollout lies at the runway
  double height_shift_sd_ft = 0.0;
  bool height_zeroed_on_ground = false;

  /// Between fixes by the cubic through both states; clamped at the ends.
  TrackState at(double time_unix_s) const;
};

/// Smooths the whole log (gaps and outliers survived), then re-zeroes height where it rolls on the runway.
/// antenna_height  of the recording device above the ground when parked (about 4 ft in a light airplane)
SmoothTrack smooth(const TrackLog& log, const RunwayFrame& frame, Feet antenna_height,
                   const DeviceNoise& = {});

}  // namespace glidewright

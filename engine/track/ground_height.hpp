#pragma once
// What the rollouts say about the receiver's height error, and what that means for the rest of the log.
// Internal to track/.

#include <vector>

#include "engine/track/runway.hpp"
#include "engine/track/smooth.hpp"

namespace glidewright {

/// A stretch of a ground run: how far the device's heights must be moved there.
struct GroundShift {
  double time_unix_s = 0.0;
  double shift_ft = 0.0;
  double variance_ft2 = 0.0;
};

/// Stretches of about 20 s where the airplane rolls or stands on this runway.
std::vector<GroundShift> ground_shifts(const std::vector<TrackState>& states, const RunwayFrame& frame,
                                       const DeviceNoise& noise);

/// Moves the heights of all states by what the ground runs say, and widens their deviations by what they
/// cannot say.
///
/// The receiver's error is a constant (sd 40 ft) plus a slow wander; between and beyond ground runs its most
/// probable course is taken (interpolation of a Gauss-Markov process).
void zero_heights(SmoothTrack& track, const std::vector<GroundShift>& shifts, const DeviceNoise& noise);

/// Correlation times of the slow part of a receiver's error, s: a minute across, two minutes in height
/// (measured on consumer receivers by common practice, no source).
inline constexpr double k_place_wander_time_s = 60.0;
inline constexpr double k_height_wander_time_s = 120.0;
/// Constant part of a receiver's height error, ft: geoid tables, antenna, altimeter setting.
inline constexpr double k_height_bias_sd_ft = 40.0;

/// A height that is not known at all carries this deviation.
inline constexpr double k_unknown_height_sd_ft = 1.0e4;

}  // namespace glidewright

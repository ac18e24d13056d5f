#pragma once

namespace glidewright {

/// What is kept of one flight over the spread; flown without a go-around, so that landing short shows.
struct FlownOnce {
  double touchdown_ft = 0.0;
  bool stable = false;
  bool aligned = false;  ///< reached the runway's line before the ground
  double base_turn_height_ft = 0.0;
  double mid_base_height_ft = 0.0;
  double final_turn_height_ft = 0.0;
  double half_mile_height_ft = 0.0;  ///< 0: rolled out nearer than half a mile
  double gate_along_ft = 0.0;
};

/// Touchdown of a flight that did not come down at all within the longest time that is flown.
inline constexpr double k_never_down_ft = -1e6;

}  // namespace glidewright

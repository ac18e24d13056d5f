#pragma once
// What a belief says about glides that a pilot asks for, with 95 % intervals.

#include "engine/calibration/glide_fit.hpp"

namespace glidewright {

struct Estimate {
  double value = 0.0;
  double low95 = 0.0;
  double high95 = 0.0;
};

/// Straight glide, flaps up, still air, powerplant idling.
Estimate best_glide_ratio(const GlideBelief& belief);
/// Calibrated, of the flattest still-air glide at this weight. Not the speed to fly: that is the handbook's.
Estimate flattest_glide_speed_kcas(const GlideBelief& belief, Pounds weight);
/// Straight glide at sea level in the standard atmosphere.
Estimate sink_fpm(const GlideBelief& belief, Knots calibrated_airspeed, Pounds weight, Degrees flap);

/// Relative standard deviation of all drag together on an approach: the largest of flaps up at best glide and
/// landing flap at approach speed, the polar's misfit included.
double drag_sd(const GlideBelief& belief);

/// Where a glide of the fitted log number `log` would be logged: drag over weight as a share of the model's,
/// less 1, its own errors included. The value is 0 shifted by what the log's glides share.
Estimate logged_drag_relative(const GlideFit& fit, const LoggedGlide& glide, std::size_t log);

}  // namespace glidewright

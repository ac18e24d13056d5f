#include "engine/calibration/logged_glide.hpp"

#include <algorithm>
#include <cmath>

namespace glidewright {

double modelled_drag_over_weight(const Polar& polar, const LoggedGlide& glide,
                                 double calibrated_airspeed_kt) {
  const double bank = glide.slip > 0.0 ? 0.0 : glide.bank_deg * k_radians_per_degree;
  double sine = 0.1;
  for (int round = 0; round < 8; ++round) {
    const double load_factor = std::sqrt(1.0 - sine * sine) / std::cos(bank);
    sine = std::clamp(polar.drag_over_weight(calibrated_airspeed_kt, glide.weight_lb, glide.flap_deg,
                                             glide.slip, load_factor, 1.0),
                      1e-3, 0.9);
  }
  return sine;
}

double logged_drag_over_weight(const LoggedGlide& glide, double calibrated_airspeed_kt,
                               double vertical_air_fpm) {
  if (glide.measure == GlideMeasure::path_angle) return std::sin(glide.angle_deg * k_radians_per_degree);
  const double true_airspeed_fpm =
      60.0 * k_fps_per_knot * calibrated_airspeed_kt / std::sqrt(glide.density_ratio);
  return std::max(1e-3, (glide.sink_fpm - vertical_air_fpm) / true_airspeed_fpm);
}

double stall_margin(const Polar& polar, const LoggedGlide& glide) {
  const double load = 1.0 / std::cos(glide.bank_deg * k_radians_per_degree);
  return glide.calibrated_airspeed_kt / (polar.stall_kcas(glide.weight_lb, glide.flap_deg) * std::sqrt(load));
}

}  // namespace glidewright

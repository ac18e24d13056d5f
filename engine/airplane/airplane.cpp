#include "engine/airplane/airplane.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>

namespace glidewright {

FlapPolar Polar::at_flap(double flap_deg) const {
  assert(!flaps.empty());
  std::size_t upper = 0;
  while (upper + 1 < flaps.size() && flaps[upper].setting_deg < flap_deg) ++upper;
  if (upper == 0 || flap_deg >= flaps[upper].setting_deg) return flaps[upper];
  const FlapPolar& a = flaps[upper - 1];
  const FlapPolar& b = flaps[upper];
  const double share = (flap_deg - a.setting_deg) / (b.setting_deg - a.setting_deg);
  const auto mix = [share](double from, double to) { return from + share * (to - from); };
  return {flap_deg, mix(a.parasite, b.parasite), mix(a.induced, b.induced), mix(a.stall_kcas, b.stall_kcas)};
}

PolarShape<double> Polar::shape(double weight_lb) const {
  const double weight_share = weight_lb / reference_weight_lb;
  const double at_one = reference_speed_kcas * reference_speed_kcas * weight_share;
  return {at_one, 1.0 / at_one, weight_share, knee_gain, knee_start, slip_parasite, turn_drag_gain};
}

double Polar::drag_over_weight(double equivalent_airspeed_kt, double weight_lb, double flap_deg, double slip,
                               double load_factor, double induced_remaining) const {
  const double speed_squared = equivalent_airspeed_kt * equivalent_airspeed_kt;
  return drag_at_speed(shape(weight_lb), at_flap(flap_deg), speed_squared, 1.0 / speed_squared, slip,
                       induced_remaining)
      .over_weight(load_factor);
}

double Polar::stall_kcas(double weight_lb, double flap_deg) const {
  return at_flap(flap_deg).stall_kcas * std::sqrt(weight_lb / reference_weight_lb);
}

SteadyGlide steady_glide(const Polar& polar, Knots calibrated_airspeed, Pounds weight, Degrees flap,
                         double slip, double density_ratio) {
  // tan(gamma) = D/L with L = W cos(gamma): the load factor is cos(gamma), found by a few rounds.
  double angle = 0.1;
  for (int round = 0; round < 12; ++round) {
    const double load_factor = std::cos(angle);
    angle = std::asin(std::clamp(
        polar.drag_over_weight(calibrated_airspeed.value, weight.value, flap.value, slip, load_factor, 1.0),
        0.0, 0.99));
  }
  const double true_airspeed_kt = calibrated_airspeed.value / std::sqrt(density_ratio);
  const double sink_fps = to_feet_per_second(Knots{true_airspeed_kt}).value * std::sin(angle);
  return {1.0 / std::tan(angle), angle / k_radians_per_degree, true_airspeed_kt, sink_fps * 60.0};
}

Knots best_glide_speed(const Polar& polar, Pounds weight, Degrees flap) {
  // Golden section: drag over weight has one minimum above the stall.
  const double stall = polar.stall_kcas(weight.value, flap.value);
  double low = 1.02 * stall, high = 3.0 * stall;
  const double golden = 0.5 * (std::sqrt(5.0) - 1.0);
  const auto drag = [&](double speed) {
    return polar.drag_over_weight(speed, weight.value, flap.value, 0.0, 1.0, 1.0);
  };
  while (high - low > 1e-4) {
    const double left = high - golden * (high - low), right = low + golden * (high - low);
    if (drag(left) < drag(right)) {
      high = right;
    } else {
      low = left;
    }
  }
  return {0.5 * (low + high)};
}

double ground_effect_cut(double wing_height_over_span) {
  return ground_effect_cut_of(wing_height_over_span);
}

}  // namespace glidewright

#include "engine/reach/leg_rates.hpp"

#include <algorithm>
#include <cmath>

namespace glidewright::reach {
namespace {

/// 0 below `middle - 10`, 1 above `middle + 10`.
double blend(double to_turn_deg, double middle_deg) {
  constexpr double width_deg = 20.0;
  return std::clamp((to_turn_deg - middle_deg) / width_deg + 0.5, 0.0, 1.0);
}

struct Glide {
  double drag_over_weight = 0.0;
  double cosine = 1.0;
};

/// Drag and path angle of the steady glide at this bank: sin(path) = -D/W at n = cos(path) / cos(bank).
Glide steady(const Flight& flight, double speed_fps, double flap_deg, double bank_rad) {
  const double knots = flight.calibrated_kt(speed_fps);
  Glide glide;
  for (int again = 0; again < 3; ++again) {
    glide.drag_over_weight =
        flight.drag_factor * flight.airplane->polar.drag_over_weight(knots, flight.weight_lb, flap_deg, 0.0,
                                                                     glide.cosine / std::cos(bank_rad), 1.0);
    glide.cosine = std::sqrt(1.0 - std::min(0.5, glide.drag_over_weight * glide.drag_over_weight));
  }
  return glide;
}

}  // namespace

double flap_to_turn_deg(const BandRequest& request, const EdgeRules& rules, double to_turn_deg) {
  double flap_deg = rules.flap_set_deg;
  if (rules.spends == Spends::path) return flap_deg;
  const auto& steps = request.technique.flaps;
  if (steps.empty()) return flap_deg;
  const auto set = [&](double setting_deg) {
    if (setting_deg <= rules.flap_limit_deg) flap_deg = std::max(flap_deg, setting_deg);
  };
  if (steps.size() > 1 && to_turn_deg <= request.means.first_flap_from_deg) set(steps.front().setting_deg);
  if (to_turn_deg <= request.means.landing_flap_from_deg) {
    for (const auto& step : steps) set(step.setting_deg);
  }
  return flap_deg;
}

double speed_to_turn_fps(const Flight& flight, const Technique& technique, double to_turn_deg) {
  constexpr double downwind_ends_deg = 165.0, final_begins_deg = 75.0;
  const double on_downwind = blend(to_turn_deg, downwind_ends_deg);
  const double before_final = blend(to_turn_deg, final_begins_deg);
  return flight.true_fps(technique.final_speed_kt +
                         before_final * (technique.base_speed_kt - technique.final_speed_kt) +
                         on_downwind * (technique.downwind_speed_kt - technique.base_speed_kt));
}

double roll_delay_s(const Handling& handling, double bank_rad) {
  return 0.5 * bank_rad / handling.roll_rate_limit_rad_s + 0.25 * handling.roll_lag_s;
}

LegRate leg_rate(const Flight& flight, const BandRequest& request, const EdgeRules& rules,
                 double to_turn_deg) {
  const double bank_rad = request.means.bank_deg * k_radians_per_degree;
  LegRate rate;
  rate.speed_fps = speed_to_turn_fps(flight, request.technique, to_turn_deg);
  const double final_fps = flight.true_fps(request.technique.final_speed_kt);
  rate.energy_above_final_ft =
      (rate.speed_fps * rate.speed_fps - final_fps * final_fps) / (2.0 * k_gravity_fps2);
  rate.flap_deg = flap_to_turn_deg(request, rules, to_turn_deg);
  const Glide level = steady(flight, rate.speed_fps, rate.flap_deg, 0.0);
  const Glide turning = steady(flight, rate.speed_fps, rate.flap_deg, bank_rad);
  rate.horizontal_fps = rate.speed_fps * level.cosine;
  rate.sink_fps = rate.speed_fps * level.drag_over_weight;
  rate.turn_horizontal_fps = rate.speed_fps * turning.cosine;
  rate.turn_sink_fps = rate.speed_fps * turning.drag_over_weight;
  rate.turn_rate_rad_s = k_gravity_fps2 * std::tan(bank_rad) / rate.speed_fps;
  return rate;
}

}  // namespace glidewright::reach

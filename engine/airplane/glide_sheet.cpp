#include "engine/airplane/glide_sheet.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>

namespace glidewright {
namespace {

/// The polar is not asked nearer to the stall, where no glide is steady.
constexpr double k_slowest_over_stall = 1.02;
/// Of the clean stall: faster nobody glides in the pattern.
constexpr double k_fastest_over_stall = 2.2;

}  // namespace

std::optional<double> lost_ft_per_nm(const SteadyGlide& glide, double headwind_kt) {
  constexpr double k_least_ground_speed_kt = 10.0;
  const double angle = glide.angle_deg * k_radians_per_degree;
  const double ground_speed_kt = glide.true_airspeed_kt * std::cos(angle) - headwind_kt;
  if (ground_speed_kt < k_least_ground_speed_kt) return std::nullopt;
  return to_feet(NauticalMiles{1.0}).value * glide.true_airspeed_kt * std::sin(angle) / ground_speed_kt;
}

GlidingTurn gliding_turn(const Polar& polar, Knots calibrated_airspeed, Pounds weight, Degrees flap,
                         Degrees bank, Degrees turned, double density_ratio) {
  assert(bank.value >= 1.0 && bank.value <= 60.0);
  const double bank_rad = bank.value * k_radians_per_degree;
  // Lift balances the weight's part across the path, in the banked plane: n = cos(angle) / cos(bank).
  double angle = 0.1, load_factor = 1.0;
  for (int round = 0; round < 12; ++round) {
    load_factor = std::cos(angle) / std::cos(bank_rad);
    angle = std::asin(std::clamp(
        polar.drag_over_weight(calibrated_airspeed.value, weight.value, flap.value, 0.0, load_factor, 1.0),
        0.0, 0.99));
  }
  const double speed_fps =
      to_feet_per_second(Knots{calibrated_airspeed.value / std::sqrt(density_ratio)}).value;
  const double turn_rate_per_s = k_gravity_fps2 * std::tan(bank_rad) / speed_fps;
  GlidingTurn turn;
  turn.seconds = turned.value * k_radians_per_degree / turn_rate_per_s;
  turn.lost_ft = speed_fps * std::sin(angle) * turn.seconds;
  turn.radius_ft = speed_fps * std::cos(angle) / turn_rate_per_s;
  turn.over_stall =
      calibrated_airspeed.value / (polar.stall_kcas(weight.value, flap.value) * std::sqrt(load_factor));
  return turn;
}

GlideSheet glide_sheet(const Airplane& airplane, Pounds weight, double density_ratio) {
  const Handbook& handbook = airplane.handbook;
  const Polar& polar = airplane.polar;
  const double weight_factor = std::sqrt(weight.value / handbook.maximum_weight_lb.value);
  const double fastest_kt = k_fastest_over_stall * polar.stall_kcas(weight.value, 0.0);
  const auto at = [&](double speed_kt, double flap_deg, double slip) {
    return GlideAtSpeed{speed_kt,
                        steady_glide(polar, Knots{speed_kt}, weight, Degrees{flap_deg}, slip, density_ratio)};
  };
  GlideSheet sheet{weight.value, density_ratio, {}};
  for (const HandbookFlap& flap : handbook.flaps) {
    const bool clean = flap.setting_deg <= 0.0;
    FlapGlides glides;
    glides.setting_deg = flap.setting_deg;
    glides.stall_kcas = polar.stall_kcas(weight.value, flap.setting_deg);
    if (!clean) glides.maximum_kcas = flap.maximum_speed_kcas;
    const double most_kt = clean ? fastest_kt : std::min(fastest_kt, flap.maximum_speed_kcas);
    const double least_kt = k_slowest_over_stall * glides.stall_kcas;
    const double handbook_kt = clean ? handbook.best_glide_speed_kcas.value
                                     : flap.glide_speed_kcas.value_or(handbook.approach_speed_kcas.value);
    const auto possible = [&](double speed_kt) { return std::clamp(speed_kt, least_kt, most_kt); };
    glides.flattest =
        at(possible(best_glide_speed(polar, weight, Degrees{flap.setting_deg}).value), flap.setting_deg, 0.0);
    glides.flown = at(possible(std::round(handbook_kt * weight_factor)), flap.setting_deg, 0.0);
    if (handbook.slip_flap_limit_deg > 0.0 && flap.setting_deg <= handbook.slip_flap_limit_deg)
      glides.slipping = at(glides.flown.calibrated_airspeed_kt, flap.setting_deg, 1.0);
    for (double speed_kt = std::ceil(least_kt); speed_kt <= most_kt; speed_kt += 1.0)
      glides.curve.push_back(at(speed_kt, flap.setting_deg, 0.0));
    sheet.flaps.push_back(std::move(glides));
  }
  return sheet;
}

}  // namespace glidewright

#include "engine/air/wind.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>

namespace glidewright {
namespace {

constexpr Metres k_report_height{10.0};
constexpr Metres k_floor{2.0};
constexpr Feet k_cap{1300.0};

}  // namespace

WindComponents components(Wind wind, Degrees landing_direction_true) {
  const double angle = (wind.from_true.value - landing_direction_true.value) * k_radians_per_degree;
  return {wind.speed * std::cos(angle), wind.speed * std::sin(angle)};
}

Wind wind_with(WindComponents components, Degrees landing_direction_true) {
  const double head = components.headwind.value, cross = components.crosswind_from_right.value;
  const double from = landing_direction_true.value + std::atan2(cross, head) / k_radians_per_degree;
  return {Degrees{wrap_360_deg(from)}, Knots{std::hypot(head, cross)}};
}

std::optional<CourseSolution> hold_course(Knots true_airspeed, Wind wind, Degrees course_true) {
  const auto [headwind, crosswind] = components(wind, course_true);
  const double sine = crosswind / true_airspeed;
  if (std::abs(sine) >= 1.0) return std::nullopt;
  const double angle = std::asin(sine);
  const Knots groundspeed = true_airspeed * std::cos(angle) - headwind;
  if (groundspeed.value <= 0.0) return std::nullopt;
  return CourseSolution{to_degrees(Radians{angle}), groundspeed};
}

double power_law_ratio(Metres height, double exponent) {
  return std::pow(height / k_report_height, exponent);
}

double log_law_ratio(Metres height, Metres roughness_length) {
  return std::log(height / roughness_length) / std::log(k_report_height / roughness_length);
}

Wind WindProfile::at(Feet height_above_ground) const {
  const Metres height = std::max(to_metres(std::min(height_above_ground, k_cap)), k_floor);
  if (!aloft) return {at_10m.from_true, at_10m.speed * power_law_ratio(height, power_law_exponent)};

  // Through both levels: the exponent that the two speeds give, the direction linear in height.
  const Metres top = to_metres(aloft_height);
  assert(top > k_report_height);
  const double share = std::clamp((height - k_report_height) / (top - k_report_height), 0.0, 1.0);
  const double veer = wrap_180_deg(aloft->from_true.value - at_10m.from_true.value);
  const Degrees from{wrap_360_deg(at_10m.from_true.value + share * veer)};
  if (at_10m.speed.value < 1.0 || aloft->speed.value < 1.0) {
    return {from, at_10m.speed + share * (aloft->speed - at_10m.speed)};
  }
  const double exponent = std::log(aloft->speed / at_10m.speed) / std::log(top / k_report_height);
  return {from, at_10m.speed * power_law_ratio(height, exponent)};
}

}  // namespace glidewright

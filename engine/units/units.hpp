#pragma once
// Units are types; they convert only by name. Inner loops carry the unit in the name instead (`height_ft`).

#include <cmath>
#include <compare>
#include <numbers>

namespace glidewright {

/// A number with a unit. Same-unit sums, scaling and comparison; nothing converts by itself.
template <class Unit>
struct Quantity {
  double value = 0.0;

  friend constexpr auto operator<=>(Quantity, Quantity) = default;
  constexpr Quantity operator-() const { return {-value}; }
  friend constexpr Quantity operator+(Quantity a, Quantity b) { return {a.value + b.value}; }
  friend constexpr Quantity operator-(Quantity a, Quantity b) { return {a.value - b.value}; }
  friend constexpr Quantity operator*(Quantity a, double k) { return {a.value * k}; }
  friend constexpr Quantity operator*(double k, Quantity a) { return {a.value * k}; }
  friend constexpr Quantity operator/(Quantity a, double k) { return {a.value / k}; }
  friend constexpr double operator/(Quantity a, Quantity b) { return a.value / b.value; }
};

using Feet = Quantity<struct FeetUnit>;
using Metres = Quantity<struct MetresUnit>;
using NauticalMiles = Quantity<struct NauticalMilesUnit>;
using Knots = Quantity<struct KnotsUnit>;
using FeetPerSecond = Quantity<struct FeetPerSecondUnit>;
using FeetPerMinute = Quantity<struct FeetPerMinuteUnit>;
using Seconds = Quantity<struct SecondsUnit>;
using Degrees = Quantity<struct DegreesUnit>;
using Radians = Quantity<struct RadiansUnit>;
using Pounds = Quantity<struct PoundsUnit>;
using SquareFeet = Quantity<struct SquareFeetUnit>;
using Hectopascals = Quantity<struct HectopascalsUnit>;
using InchesOfMercury = Quantity<struct InchesOfMercuryUnit>;
using Celsius = Quantity<struct CelsiusUnit>;

// Exact by definition: international foot 0.3048 m, nautical mile 1852 m, g 9.80665 m/s2.
inline constexpr double k_metres_per_foot = 0.3048;
inline constexpr double k_metres_per_nautical_mile = 1852.0;
inline constexpr double k_fps_per_knot = k_metres_per_nautical_mile / 3600.0 / k_metres_per_foot;
inline constexpr double k_gravity_fps2 = 9.80665 / k_metres_per_foot;
inline constexpr double k_hectopascals_per_inch_of_mercury = 33.86389;
inline constexpr double k_radians_per_degree = std::numbers::pi / 180.0;

constexpr Metres to_metres(Feet x) {
  return {x.value * k_metres_per_foot};
}
constexpr Feet to_feet(Metres x) {
  return {x.value / k_metres_per_foot};
}
constexpr Feet to_feet(NauticalMiles x) {
  return {x.value * k_metres_per_nautical_mile / k_metres_per_foot};
}
constexpr NauticalMiles to_nautical_miles(Feet x) {
  return {x.value * k_metres_per_foot / k_metres_per_nautical_mile};
}
constexpr FeetPerSecond to_feet_per_second(Knots x) {
  return {x.value * k_fps_per_knot};
}
constexpr Knots to_knots(FeetPerSecond x) {
  return {x.value / k_fps_per_knot};
}
constexpr FeetPerMinute to_feet_per_minute(FeetPerSecond x) {
  return {x.value * 60.0};
}
constexpr FeetPerSecond to_feet_per_second(FeetPerMinute x) {
  return {x.value / 60.0};
}
constexpr Radians to_radians(Degrees x) {
  return {x.value * k_radians_per_degree};
}
constexpr Degrees to_degrees(Radians x) {
  return {x.value / k_radians_per_degree};
}
constexpr Hectopascals to_hectopascals(InchesOfMercury x) {
  return {x.value * k_hectopascals_per_inch_of_mercury};
}
constexpr InchesOfMercury to_inches_of_mercury(Hectopascals x) {
  return {x.value / k_hectopascals_per_inch_of_mercury};
}

/// An angle brought into [0, 360), for directions.
inline double wrap_360_deg(double angle_deg) {
  const double wrapped = std::fmod(angle_deg, 360.0);
  if (wrapped >= 0.0) return wrapped;
  const double positive = wrapped + 360.0;
  return positive < 360.0 ? positive : 0.0;  // a hair below 0 rounds up to 360
}
/// An angle brought into (-180, 180], for differences.
inline double wrap_180_deg(double angle_deg) {
  const double wrapped = wrap_360_deg(angle_deg);
  return wrapped > 180.0 ? wrapped - 360.0 : wrapped;
}

namespace unit_literals {
constexpr Feet operator""_ft(long double v) {
  return {static_cast<double>(v)};
}
constexpr Feet operator""_ft(unsigned long long v) {
  return {static_cast<double>(v)};
}
constexpr Knots operator""_kt(long double v) {
  return {static_cast<double>(v)};
}
constexpr Knots operator""_kt(unsigned long long v) {
  return {static_cast<double>(v)};
}
constexpr Degrees operator""_deg(long double v) {
  return {static_cast<double>(v)};
}
constexpr Degrees operator""_deg(unsigned long long v) {
  return {static_cast<double>(v)};
}
constexpr Seconds operator""_s(long double v) {
  return {static_cast<double>(v)};
}
constexpr Seconds operator""_s(unsigned long long v) {
  return {static_cast<double>(v)};
}
constexpr Pounds operator""_lb(unsigned long long v) {
  return {static_cast<double>(v)};
}
}  // namespace unit_literals

}  // namespace glidewright

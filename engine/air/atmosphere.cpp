#include "engine/air/atmosphere.hpp"

#include <cassert>
#include <cmath>

namespace glidewright {
namespace {

// US Standard Atmosphere 1976, troposphere.
constexpr double k_sea_level_temperature_k = 288.15;
constexpr double k_lapse_k_per_m = 0.0065;
constexpr double k_pressure_exponent = 5.25588;
constexpr double k_density_exponent = k_pressure_exponent - 1.0;
constexpr double k_kelvin_at_zero_celsius = 273.15;

}  // namespace

AirRatios standard_atmosphere(Feet pressure_altitude) {
  const double theta = 1.0 - k_lapse_k_per_m * to_metres(pressure_altitude).value / k_sea_level_temperature_k;
  const double delta = std::pow(theta, k_pressure_exponent);
  return {theta, delta, delta / theta};
}

Feet pressure_altitude(Feet elevation, Hectopascals altimeter_setting) {
  // 145366.45 ft (1 - (A / 29.92126 inHg)^0.190284), added to the elevation.
  const double setting_ratio = to_inches_of_mercury(altimeter_setting).value / 29.92126;
  return elevation + Feet{145366.45 * (1.0 - std::pow(setting_ratio, 0.190284))};
}

double density_ratio(Feet pressure_altitude, Celsius outside_temperature) {
  return standard_atmosphere(pressure_altitude).pressure * k_sea_level_temperature_k /
         (outside_temperature.value + k_kelvin_at_zero_celsius);
}

Feet density_altitude(double density_ratio) {
  assert(density_ratio > 0.0);
  const double theta = std::pow(density_ratio, 1.0 / k_density_exponent);
  return to_feet(Metres{k_sea_level_temperature_k / k_lapse_k_per_m * (1.0 - theta)});
}

Celsius standard_temperature(Feet pressure_altitude) {
  return {standard_atmosphere(pressure_altitude).temperature * k_sea_level_temperature_k -
          k_kelvin_at_zero_celsius};
}

TrueAirspeed true_airspeed(CalibratedAirspeed cas, double density_ratio) {
  return {cas.value / std::sqrt(density_ratio)};
}

CalibratedAirspeed calibrated_airspeed(TrueAirspeed tas, double density_ratio) {
  return {tas.value * std::sqrt(density_ratio)};
}

TrueAirspeed true_airspeed_compressible(CalibratedAirspeed cas, AirRatios air) {
  constexpr double speed_of_sound_kt = 661.479;  // ICAO sea level
  const double mach_at_sea_level = cas.value.value / speed_of_sound_kt;
  const double impact_over_sea_level = std::pow(1.0 + 0.2 * mach_at_sea_level * mach_at_sea_level, 3.5) - 1.0;
  const double mach_squared = 5.0 * (std::pow(impact_over_sea_level / air.pressure + 1.0, 2.0 / 7.0) - 1.0);
  return {Knots{speed_of_sound_kt * std::sqrt(mach_squared * air.temperature)}};
}

}  // namespace glidewright

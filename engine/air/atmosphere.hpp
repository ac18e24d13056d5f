#pragma once
// Standard atmosphere, pressure and density altitude, and what they make of an airspeed.

#include "engine/units/units.hpp"

namespace glidewright {

/// Ratios to the ICAO standard at sea level (288.15 K, 1013.25 hPa, 1.225 kg/m3).
struct AirRatios {
  double temperature = 1.0;
  double pressure = 1.0;
  double density = 1.0;
};

/// Standard troposphere. height: geopotential, -2,000 to 36,000 ft.
/// Source: US Standard Atmosphere 1976.
AirRatios standard_atmosphere(Feet pressure_altitude);

/// Pressure altitude of a place from its elevation and the altimeter setting.
/// Source: US National Weather Service pressure-altitude equation (constants from memory).
Feet pressure_altitude(Feet elevation, Hectopascals altimeter_setting);

/// Density over the standard's at sea level, from pressure altitude and outside temperature.
double density_ratio(Feet pressure_altitude, Celsius outside_temperature);

/// Height in the standard atmosphere with this density.
Feet density_altitude(double density_ratio);

/// Standard temperature at a pressure altitude.
Celsius standard_temperature(Feet pressure_altitude);

/// Airspeed shown on the dial.
struct IndicatedAirspeed {
  Knots value;
};
/// Airspeed with position and instrument error removed.
struct CalibratedAirspeed {
  Knots value;
};
/// Speed through the air mass.
struct TrueAirspeed {
  Knots value;
};

/// True airspeed from calibrated, incompressible flow: TAS = CAS / sqrt(density ratio).
/// Accuracy: reads high by less than 0.2 % up to 100 kt and 10,000 ft.
TrueAirspeed true_airspeed(CalibratedAirspeed cas, double density_ratio);
CalibratedAirspeed calibrated_airspeed(TrueAirspeed tas, double density_ratio);

/// True airspeed from calibrated through the compressible pitot equation
/// qc = p0 [(1 + 0.2 (CAS / a0)^2)^3.5 - 1], a0 = 661.479 kt. The reference for the one above.
TrueAirspeed true_airspeed_compressible(CalibratedAirspeed cas, AirRatios air);

}  // namespace glidewright

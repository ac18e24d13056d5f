#include "engine/air/atmosphere.hpp"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <cmath>

namespace glidewright {
namespace {

// US Standard Atmosphere 1976, tables in geopotential height, recomputed. 5e-6: half of the last printed
// digit.
TEST(StandardAtmosphere, DensityAndPressureOfTheTable) {
  EXPECT_NEAR(standard_atmosphere(Feet{0.0}).density, 1.0, 1e-15);
  EXPECT_NEAR(standard_atmosphere(Feet{1000.0}).density, 0.97106, 5e-6);
  EXPECT_NEAR(standard_atmosphere(Feet{2000.0}).density, 0.94277, 5e-6);
  EXPECT_NEAR(standard_atmosphere(Feet{5000.0}).density, 0.86167, 5e-6);
  EXPECT_NEAR(standard_atmosphere(Feet{10000.0}).density, 0.73848, 5e-6);
  EXPECT_NEAR(standard_atmosphere(Feet{5000.0}).pressure, 0.83205, 5e-6);
}

// ICAO standard atmosphere: 15 C at sea level, 1.98 C less each 1,000 ft.
TEST(StandardAtmosphere, TemperatureFallsByTheLapseRate) {
  EXPECT_NEAR(standard_temperature(Feet{0.0}).value, 15.0, 1e-9);
  EXPECT_NEAR(standard_temperature(Feet{3500.0}).value, 15.0 - 0.0065 * 3500.0 * 0.3048, 1e-9);
}

// ICAO standard atmosphere, recomputed. 2 ft: the constants in print (exponent, kelvin) differ in the last
// digit.
TEST(DensityAltitude, OfWarmAndColdDays) {
  const struct {
    double pressure_altitude_ft, temperature_c, density_altitude_ft;
  } rows[] = {{3500.0, 27.0, 5657.0}, {1000.0, 30.0, 2943.0}, {2000.0, 25.0, 3607.0}, {500.0, -5.0, -1851.0}};
  for (const auto& row : rows) {
    const double ratio = density_ratio(Feet{row.pressure_altitude_ft}, Celsius{row.temperature_c});
    EXPECT_NEAR(density_altitude(ratio).value, row.density_altitude_ft, 2.0) << row.pressure_altitude_ft;
  }
}

// The cockpit rule, pressure altitude + 120 ft for each degree above standard (common practice, no source),
// gives 5,772 ft for 3,500 ft and 27 C. It is 2 % high, and the engine must not be that rule.
TEST(DensityAltitude, IsNotTheCockpitRule) {
  const Feet height{3500.0};
  const double rule = height.value + 120.0 * (27.0 - standard_temperature(height).value);
  EXPECT_NEAR(rule, 5772.0, 1.0);  // the printed foot
  const double exact = density_altitude(density_ratio(height, Celsius{27.0})).value;
  EXPECT_NEAR(rule / exact, 1.02, 0.003);  // "2 % high": to the printed per cent
}

RC_GTEST_PROP(DensityAltitude, OfStandardAirIsThePressureAltitude, ()) {
  const double height_ft = *rc::gen::inRange(-2000, 20000);
  const double back = density_altitude(standard_atmosphere(Feet{height_ft}).density).value;
  RC_ASSERT(std::abs(back - height_ft) < 1e-6);  // two powers of 1e-16 relative error over 145,000 ft
}

// US National Weather Service pressure-altitude equation (its constants from memory), recomputed; 0.5 ft is
// half of the printed foot. The rule of 1,000 ft per inch (FAA PHAK, from memory) is 7-9 % off and must not
// pass.
TEST(PressureAltitude, FromTheAltimeterSetting) {
  const auto from_inches = [](double setting) {
    return pressure_altitude(Feet{0.0}, to_hectopascals(InchesOfMercury{setting})).value;
  };
  EXPECT_NEAR(from_inches(30.42), -458.0, 0.5);
  EXPECT_NEAR(from_inches(29.42), 467.0, 0.5);
  EXPECT_NEAR(from_inches(28.92), 938.0, 0.5);
  EXPECT_NEAR(pressure_altitude(Feet{0.0}, Hectopascals{1003.0}).value, 281.0, 0.5);
  EXPECT_NEAR(pressure_altitude(Feet{0.0}, Hectopascals{1023.0}).value, -265.0, 0.5);
  EXPECT_NEAR(from_inches(29.90), 19.7, 0.1);  // the same equation for the setting of the ASOS guide's sample
  EXPECT_GT(std::abs(from_inches(30.42) - 1000.0 * (29.92 - 30.42)), 30.0);
}

TEST(PressureAltitude, CountsFromTheElevation) {
  const auto at_sea_level = pressure_altitude(Feet{0.0}, Hectopascals{1003.0});
  EXPECT_DOUBLE_EQ(pressure_altitude(Feet{4100.0}, Hectopascals{1003.0}).value, 4100.0 + at_sea_level.value);
}

// ICAO standard atmosphere at sea level, recomputed: 27.31 ft for a hectopascal, 924.8 ft for an inch.
// Tolerances: half of a printed digit and the curve over the step taken.
TEST(PressureAltitude, GradientAtSeaLevel) {
  const auto height = [](double hectopascals) {
    return pressure_altitude(Feet{0.0}, Hectopascals{hectopascals}).value;
  };
  EXPECT_NEAR((height(1012.25) - height(1014.25)) / 2.0, 27.31, 0.05);
  const double inch = k_hectopascals_per_inch_of_mercury;
  EXPECT_NEAR((height(1013.25 - 0.05 * inch) - height(1013.25 + 0.05 * inch)) / 0.1, 924.8, 0.5);
}

// TAS = EAS / sqrt(density ratio) in the standard atmosphere, recomputed; half of the printed digit.
TEST(TrueAirspeed, FromEquivalentInStandardAir) {
  const CalibratedAirspeed seventy{Knots{70.0}};
  EXPECT_NEAR(true_airspeed(seventy, standard_atmosphere(Feet{2000.0}).density).value.value, 72.09, 0.005);
  EXPECT_NEAR(true_airspeed(seventy, standard_atmosphere(Feet{5000.0}).density).value.value, 75.41, 0.005);
}

// Pitot equation of compressible flow, qc = p0 ((1 + 0.2 (V / a0)^2)^3.5 - 1), recomputed; half of the
// printed digit.
TEST(TrueAirspeed, CompressibleFlow) {
  const auto kt = [](double cas, AirRatios air) {
    return true_airspeed_compressible({Knots{cas}}, air).value.value;
  };
  EXPECT_NEAR(kt(70.0, standard_atmosphere(Feet{5000.0})), 75.39, 0.0055);
  EXPECT_NEAR(kt(100.0, standard_atmosphere(Feet{10000.0})), 116.22, 0.0055);
  AirRatios warm = standard_atmosphere(Feet{3500.0});
  warm.temperature = (27.0 + 273.15) / 288.15;
  warm.density = warm.pressure / warm.temperature;
  EXPECT_NEAR(kt(65.0, warm), 70.71, 0.0055);
}

// What the header promises of the incompressible formula: high, and by less than 0.2 % up to 100 kt and
// 10,000 ft.
RC_GTEST_PROP(TrueAirspeed, IncompressibleReadsHighByLessThanAFifthOfAPerCent, ()) {
  const double cas = *rc::gen::inRange(40, 101);
  const AirRatios air = standard_atmosphere(Feet{static_cast<double>(*rc::gen::inRange(0, 10001))});
  const double exact = true_airspeed_compressible({Knots{cas}}, air).value.value;
  const double simple = true_airspeed({Knots{cas}}, air.density).value.value;
  RC_ASSERT(simple >= exact * (1.0 - 1e-6));  // equal at sea level, up to the printed speed of sound
  RC_ASSERT(simple < 1.002 * exact);
}

RC_GTEST_PROP(TrueAirspeed, CalibratedComesBack, ()) {
  const double cas = *rc::gen::inRange(30, 150);
  const double ratio = *rc::gen::inRange(500, 1200) / 1000.0;
  const auto back = calibrated_airspeed(true_airspeed({Knots{cas}}, ratio), ratio);
  RC_ASSERT(std::abs(back.value.value - cas) < 1e-12);
}

}  // namespace
}  // namespace glidewright

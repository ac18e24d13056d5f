#include "engine/units/units.hpp"

#include <gtest/gtest.h>

#include "engine/air/wind.hpp"

namespace glidewright {
namespace {

// International foot and nautical mile, standard gravity: exact by definition, so only the printed digits are
// off.
TEST(Units, DefinedConstants) {
  EXPECT_NEAR(k_fps_per_knot, 1.687810, 5e-7);
  EXPECT_NEAR(k_gravity_fps2, 32.17405, 5e-6);
  EXPECT_DOUBLE_EQ(to_feet(NauticalMiles{1.0}).value, 1852.0 / 0.3048);
  EXPECT_DOUBLE_EQ(to_metres(Feet{1000.0}).value, 304.8);
}

// 1 inHg = 33.86389 hPa (conventional mercury at 0 C). 0.005: half of the printed digit.
TEST(Units, AltimeterSettings) {
  EXPECT_NEAR(to_hectopascals(InchesOfMercury{29.92}).value, 1013.21, 0.005);
  EXPECT_NEAR(to_inches_of_mercury(Hectopascals{1018.0}).value, 30.06, 0.005);
}

// Energy of speed as height, V^2 / 2g, recomputed; 0.05 ft is half of the printed digit.
TEST(Units, EnergyHeightOfASpeed) {
  const struct {
    double speed_kt, height_ft;
  } rows[] = {{60.0, 159.4}, {65.0, 187.0}, {70.0, 216.9}, {80.0, 283.3}};
  for (const auto& row : rows) {
    const double fps = to_feet_per_second(Knots{row.speed_kt}).value;
    EXPECT_NEAR(fps * fps / (2.0 * k_gravity_fps2), row.height_ft, 0.05) << row.speed_kt;
  }
}

// One fix a second is this far from the next, recomputed; 0.05 ft is half of the printed digit.
TEST(Units, DistanceBetweenFixesASecondApart) {
  EXPECT_NEAR(to_feet_per_second(Knots{60.0}).value, 101.3, 0.05);
  EXPECT_NEAR(to_feet_per_second(Knots{65.0}).value, 109.7, 0.05);
}

TEST(Units, ConversionsComeBack) {
  for (const double x : {-1234.5, 0.0, 0.001, 98765.4}) {
    // 1e-15 relative: one rounding each way.
    const double within = 4e-16 * std::abs(x);
    EXPECT_NEAR(to_feet(to_metres(Feet{x})).value, x, within);
    EXPECT_NEAR(to_feet(to_nautical_miles(Feet{x})).value, x, within);
    EXPECT_NEAR(to_knots(to_feet_per_second(Knots{x})).value, x, within);
    EXPECT_NEAR(to_feet_per_second(to_feet_per_minute(FeetPerSecond{x})).value, x, within);
    EXPECT_NEAR(to_degrees(to_radians(Degrees{x})).value, x, within);
    EXPECT_NEAR(to_hectopascals(to_inches_of_mercury(Hectopascals{x})).value, x, within);
  }
}

TEST(Units, DirectionsWrapIntoTheirRange) {
  EXPECT_EQ(wrap_360_deg(360.0), 0.0);
  EXPECT_EQ(wrap_360_deg(-10.0), 350.0);
  EXPECT_EQ(wrap_360_deg(725.0), 5.0);
  EXPECT_EQ(wrap_180_deg(180.0), 180.0);
  EXPECT_EQ(wrap_180_deg(-180.0), 180.0);
  EXPECT_EQ(wrap_180_deg(190.0), -170.0);
  EXPECT_LT(wrap_360_deg(-1e-20), 360.0);
}

}  // namespace
}  // namespace glidewright

#include "engine/air/wind.hpp"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <cmath>

namespace glidewright {
namespace {

// Trigonometry; 0.005 kt is half of the printed digit.
TEST(WindComponents, HeadAndCross) {
  const auto thirty = components({Degrees{30.0}, Knots{20.0}}, Degrees{0.0});
  EXPECT_NEAR(thirty.headwind.value, 17.32, 0.005);
  EXPECT_NEAR(thirty.crosswind_from_right.value, 10.00, 0.005);

  const auto mean = components({Degrees{240.0}, Knots{15.0}}, Degrees{210.0});
  EXPECT_NEAR(mean.headwind.value, 12.99, 0.005);
  EXPECT_NEAR(mean.crosswind_from_right.value, 7.50, 0.005);
  const auto gust = components({Degrees{240.0}, Knots{25.0}}, Degrees{210.0});
  EXPECT_NEAR(gust.headwind.value, 21.65, 0.005);
  EXPECT_NEAR(gust.crosswind_from_right.value, 12.50, 0.005);

  // 210/16 gusting 24 on 180 true: the wind of the US NWS ASOS User's Guide sample.
  const auto sample = components({Degrees{210.0}, Knots{16.0}}, Degrees{180.0});
  EXPECT_NEAR(sample.headwind.value, 13.86, 0.005);
  EXPECT_NEAR(sample.crosswind_from_right.value, 8.00, 0.005);
  const auto sample_gust = components({Degrees{210.0}, Knots{24.0}}, Degrees{180.0});
  EXPECT_NEAR(sample_gust.headwind.value, 20.78, 0.005);
  EXPECT_NEAR(sample_gust.crosswind_from_right.value, 12.00, 0.005);
}

// Back from the components is the wind itself; 1e-9 is rounding.
TEST(WindComponents, MakeTheWindAgain) {
  for (double from = 0.0; from < 360.0; from += 15.0) {
    for (const double runway : {0.0, 93.0, 270.0}) {
      const Wind wind = wind_with(components({Degrees{from}, Knots{12.0}}, Degrees{runway}), Degrees{runway});
      EXPECT_NEAR(wrap_180_deg(wind.from_true.value - from), 0.0, 1e-9);
      EXPECT_NEAR(wind.speed.value, 12.0, 1e-9);
    }
  }
}

// The wind triangle; 0.005 is half of the printed digit.
TEST(HoldCourse, WindCorrectionAngleAndGroundspeed) {
  const auto square = hold_course(Knots{70.0}, {Degrees{300.0}, Knots{20.0}}, Degrees{210.0});
  ASSERT_TRUE(square);
  EXPECT_NEAR(square->wind_correction_angle.value, 16.60, 0.005);
  EXPECT_NEAR(square->groundspeed.value, 67.08, 0.005);
  const auto slanting = hold_course(Knots{70.0}, {Degrees{240.0}, Knots{15.0}}, Degrees{210.0});
  ASSERT_TRUE(slanting);
  EXPECT_NEAR(slanting->wind_correction_angle.value, 6.15, 0.005);
  EXPECT_NEAR(slanting->groundspeed.value, 56.61, 0.005);
}

TEST(HoldCourse, RefusesAWindThatCannotBeHeldAgainst) {
  EXPECT_FALSE(hold_course(Knots{50.0}, {Degrees{90.0}, Knots{51.0}}, Degrees{0.0}));
  EXPECT_FALSE(hold_course(Knots{50.0}, {Degrees{0.0}, Knots{51.0}}, Degrees{0.0}));
  EXPECT_TRUE(hold_course(Knots{50.0}, {Degrees{180.0}, Knots{49.0}}, Degrees{0.0}));
}

RC_GTEST_PROP(HoldCourse, AirVelocityAndWindMakeTheCourse, ()) {
  const double speed_kt = *rc::gen::inRange(50, 120), wind_kt = *rc::gen::inRange(0, 40);
  const double from_deg = *rc::gen::inRange(0, 360), course_deg = *rc::gen::inRange(0, 360);
  const auto held = hold_course(Knots{speed_kt}, {Degrees{from_deg}, Knots{wind_kt}}, Degrees{course_deg});
  RC_ASSERT(held.has_value());
  const double heading = (course_deg + held->wind_correction_angle.value) * k_radians_per_degree;
  const double from = from_deg * k_radians_per_degree, course = course_deg * k_radians_per_degree;
  const double north = speed_kt * std::cos(heading) - wind_kt * std::cos(from);
  const double east = speed_kt * std::sin(heading) - wind_kt * std::sin(from);
  RC_ASSERT(std::abs(north - held->groundspeed.value * std::cos(course)) < 1e-11);  // rounding of 100 kt
  RC_ASSERT(std::abs(east - held->groundspeed.value * std::sin(course)) < 1e-11);
}

// (1,000 ft / 10 m)^(1/7) and ln(h / z0) / ln(10 m / z0) with the roughness lengths of WMO-No. 8 (from
// memory), recomputed; 5e-4 is half of the printed digit.
TEST(WindProfile, SpeedAtThousandFeetOverSpeedAtTenMetres) {
  const Metres height = to_metres(Feet{1000.0});
  EXPECT_NEAR(power_law_ratio(height, 1.0 / 7.0), 1.629, 5e-4);
  EXPECT_NEAR(log_law_ratio(height, Metres{0.03}), 1.588, 5e-4);
  EXPECT_NEAR(log_law_ratio(height, Metres{0.05}), 1.645, 5e-4);
  EXPECT_NEAR(log_law_ratio(height, Metres{0.10}), 1.742, 5e-4);
}

TEST(WindProfile, GrowsByThePowerLawBetweenFloorAndCap) {
  WindProfile profile;
  profile.at_10m = {Degrees{240.0}, Knots{10.0}};
  EXPECT_NEAR(profile.at(Feet{1000.0}).speed.value, 16.29, 5e-3);
  EXPECT_NEAR(profile.at(to_feet(Metres{10.0})).speed.value, 10.0, 1e-12);
  EXPECT_EQ(profile.at(Feet{0.0}).speed.value, profile.at(to_feet(Metres{2.0})).speed.value);
  EXPECT_EQ(profile.at(Feet{5000.0}).speed.value, profile.at(Feet{1300.0}).speed.value);
  EXPECT_EQ(profile.at(Feet{700.0}).from_true.value, 240.0);
}

TEST(WindProfile, PassesThroughTheWindAloft) {
  WindProfile profile;
  profile.at_10m = {Degrees{240.0}, Knots{10.0}};
  profile.aloft = Wind{Degrees{270.0}, Knots{25.0}};
  profile.aloft_height = Feet{900.0};
  const auto aloft = profile.at(Feet{900.0});
  EXPECT_NEAR(aloft.speed.value, 25.0, 1e-9);
  EXPECT_NEAR(aloft.from_true.value, 270.0, 1e-9);
  const auto low = profile.at(to_feet(Metres{10.0}));
  EXPECT_NEAR(low.speed.value, 10.0, 1e-9);
  EXPECT_NEAR(low.from_true.value, 240.0, 1e-9);
}

// The mean of 350 and 10 degrees is north, not south.
TEST(WindProfile, VeersThroughNorthTheShortWay) {
  WindProfile profile;
  profile.at_10m = {Degrees{350.0}, Knots{10.0}};
  profile.aloft = Wind{Degrees{10.0}, Knots{20.0}};
  profile.aloft_height = Feet{1000.0};
  const Feet half_way = 0.5 * (profile.aloft_height + to_feet(Metres{10.0}));
  EXPECT_NEAR(wrap_180_deg(profile.at(half_way).from_true.value), 0.0, 1e-9);
}

TEST(WindProfile, CalmBelowAWindAloftIsNoNumberTrouble) {
  WindProfile profile;
  profile.at_10m = {Degrees{0.0}, Knots{0.0}};
  profile.aloft = Wind{Degrees{90.0}, Knots{20.0}};
  for (const double height_ft : {0.0, 33.0, 500.0, 1000.0}) {
    const double speed = profile.at(Feet{height_ft}).speed.value;
    EXPECT_TRUE(speed >= 0.0 && speed <= 20.0) << height_ft;
  }
  EXPECT_NEAR(profile.at(Feet{1000.0}).speed.value, 20.0, 1e-9);
}

}  // namespace
}  // namespace glidewright

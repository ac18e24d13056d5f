#include "engine/airplane/glide_sheet.hpp"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <cmath>

#include "tests/engine/airplane/parabolic_polar.hpp"
#include "tests/engine/airplane/trainer_handbook.hpp"

namespace glidewright {
namespace {

SteadyGlide nine_to_one(double true_airspeed_kt) {
  SteadyGlide glide;
  glide.glide_ratio = 9.0;
  glide.angle_deg = std::atan(1.0 / 9.0) / k_radians_per_degree;
  glide.true_airspeed_kt = true_airspeed_kt;
  return glide;
}

// Closed form: a mile of 6076.1 ft at nine to one is 675.1 ft in still air. 0.05 ft: printed digit.
TEST(LostFtPerNm, IsTheMileOverTheRatioInStillAir) {
  EXPECT_NEAR(lost_ft_per_nm(nine_to_one(70.0), 0.0).value(), 675.1, 0.05);
}

// Closed form: over the ground 70 cos(6.340 deg) = 69.572 kt less 10 of headwind, so 675.12 * 69.572
// / 59.572.
TEST(LostFtPerNm, GrowsWithTheTimeThatTheWindCosts) {
  EXPECT_NEAR(lost_ft_per_nm(nine_to_one(70.0), 10.0).value(), 788.45, 0.05);
  EXPECT_LT(lost_ft_per_nm(nine_to_one(70.0), -10.0).value(), 675.1);
}

TEST(LostFtPerNm, IsNoneWhereTheWindLeavesNoGroundSpeed) {
  EXPECT_FALSE(lost_ft_per_nm(nine_to_one(40.0), 35.0));
}

// Closed form of a level turn, which a glide of 1,000 to one nearly is: radius V^2 / (g tan bank) and 90
// degrees in (pi / 2) V / (g tan bank); 70 kt is 118.147 fps, so 751.45 ft and 9.991 s at 30 degrees. Load
// factor 1 / cos 30, so the stall grows by 7.46 %. Tolerances: half of the printed digit.
TEST(GlidingTurn, IsTheLevelTurnWhereThereIsNoDrag) {
  Polar polar = polar_of(70.0, 1000.0);
  polar.flaps[0].stall_kcas = 50.0;
  const auto turn = gliding_turn(polar, Knots{70.0}, Pounds{polar.reference_weight_lb}, Degrees{0.0},
                                 Degrees{30.0}, Degrees{90.0}, 1.0);
  EXPECT_NEAR(turn.radius_ft, 751.45, 0.005);
  EXPECT_NEAR(turn.seconds, 9.991, 0.0005);
  EXPECT_NEAR(turn.over_stall, 70.0 / (50.0 * 1.07457), 5e-5);
}

// Closed form: at the best-glide speed of a parabola D/W = (1 + n^2) / 2 / ratio. At 9 to one and 30 degrees
// n = cos(angle) / cos(30), so sin(angle) = (1 + (cos(angle) 1.1547)^2) / 18: 0.12841, solved by hand, and
// 118.147 fps for 9.991 s. 0.1 ft: from the last digit of the sine.
TEST(GlidingTurn, LosesWhatTheLoadFactorAdds) {
  const Polar polar = polar_of(70.0, 9.0);
  const auto turn = gliding_turn(polar, Knots{70.0}, Pounds{polar.reference_weight_lb}, Degrees{0.0},
                                 Degrees{30.0}, Degrees{90.0}, 1.0);
  const double sine = 0.12841;
  EXPECT_NEAR(sine, (1.0 + (1.0 - sine * sine) * 4.0 / 3.0) / 18.0, 1e-5) << "the sine solves its equation";
  EXPECT_NEAR(turn.lost_ft, 118.147 * 9.991 * sine, 0.1);
}

RC_GTEST_PROP(GlidingTurn, ThinnerAirMakesItWider, ()) {
  const Polar polar = polar_of(70.0, 9.0);
  const double density_ratio = *rc::gen::inRange(60, 100) / 100.0;
  const auto radius_at = [&](double ratio) {
    return gliding_turn(polar, Knots{70.0}, Pounds{polar.reference_weight_lb}, Degrees{0.0}, Degrees{30.0},
                        Degrees{90.0}, ratio)
        .radius_ft;
  };
  // V^2 grows as 1 / density; 1e-9: rounding only.
  RC_ASSERT(std::abs(radius_at(density_ratio) * density_ratio / radius_at(1.0) - 1.0) < 1e-9);
}

// What the polar was fitted through stands on the sheet again. 0.005: the fit is exact, the sheet's speeds
// are whole knots as the handbook's are.
TEST(GlideSheet, ShowsTheHandbooksOwnGlidesAtMaximumWeight) {
  const auto airplane = fit_airplane(trainer_handbook());
  const auto sheet = glide_sheet(airplane, Pounds{2400.0}, 1.0);
  ASSERT_EQ(sheet.flaps.size(), 3U);
  EXPECT_EQ(sheet.flaps[0].flown.calibrated_airspeed_kt, 70.0);
  EXPECT_NEAR(sheet.flaps[0].flown.glide.glide_ratio, 9.0, 0.005);
  EXPECT_NEAR(sheet.flaps[1].flown.glide.glide_ratio, 8.3, 0.005);
  EXPECT_NEAR(sheet.flaps[2].flown.glide.glide_ratio, 6.6, 0.005);
  EXPECT_NEAR(sheet.flaps[0].slipping->glide.glide_ratio, 0.7 * 9.0, 0.005);
}

// Speeds go with the root of the weight: 70 kt at 2,400 lb is 60.6 at 1,800, flown as 61.
TEST(GlideSheet, FliesLighterMoreSlowly) {
  const auto sheet = glide_sheet(fit_airplane(trainer_handbook()), Pounds{1800.0}, 1.0);
  EXPECT_EQ(sheet.flaps[0].flown.calibrated_airspeed_kt, 61.0);
  EXPECT_NEAR(sheet.flaps[0].stall_kcas, 50.0 * std::sqrt(0.75), 1e-9);
}

TEST(GlideSheet, KeepsToFlapLimitsAndToTheSlipRule) {
  auto handbook = trainer_handbook();
  handbook.slip_flap_limit_deg = 10.0;
  const auto sheet = glide_sheet(fit_airplane(handbook), Pounds{2400.0}, 1.0);
  EXPECT_EQ(sheet.flaps[2].curve.back().calibrated_airspeed_kt, 85.0);
  EXPECT_FALSE(sheet.flaps[0].maximum_kcas);
  EXPECT_TRUE(sheet.flaps[1].slipping);
  EXPECT_FALSE(sheet.flaps[2].slipping);
  handbook.slip_flap_limit_deg = 0.0;
  EXPECT_FALSE(glide_sheet(fit_airplane(handbook), Pounds{2400.0}, 1.0).flaps[0].slipping);
  for (const auto& flap : sheet.flaps) {
    EXPECT_GT(flap.curve.front().calibrated_airspeed_kt, flap.stall_kcas);
    for (const auto& one : flap.curve)
      EXPECT_LE(one.glide.glide_ratio, flap.flattest.glide.glide_ratio + 1e-3);
  }
}

}  // namespace
}  // namespace glidewright

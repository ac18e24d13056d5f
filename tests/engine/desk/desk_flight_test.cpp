#include "engine/desk/desk_flight.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "engine/plan/taught.hpp"
#include "engine/technique/clock.hpp"
#include "tests/engine/airplane/trainer_handbook.hpp"

namespace glidewright {
namespace {

constexpr int k_to_abeam = 75;  // ticks: 15 s

struct Scene {
  Airplane airplane = fit_airplane(trainer_handbook());
  Conditions conditions;
  Technique technique;
  DeskRunway runway;

  explicit Scene(double wind_from_deg = 0.0, double wind_kt = 0.0) {
    conditions.wind.at_10m = {Degrees{wind_from_deg}, Knots{wind_kt}};
    conditions.weight_lb = 2300.0;
    technique = taught_technique(airplane, conditions.weight_lb, 0.0);
  }
  DeskFlight flown(const std::vector<DeskHold>& holds) const {
    return fly_at_desk(airplane, conditions, technique, runway, holds);
  }
};

DeskHold hold(int ticks, double bank_deg = 0.0, double kt = 70.0, double flap_deg = 0.0) {
  DeskHold one;
  one.ticks = ticks;
  one.hands.bank_deg = bank_deg;
  one.hands.calibrated_airspeed_kt = kt;
  one.hands.flap_deg = flap_deg;
  return one;
}

/// A left-hand pattern in calm air, by a pilot who looks at nothing but the clock.
std::vector<DeskHold> pattern() {
  return {hold(k_to_abeam + 40), hold(48, -30.0), hold(52, 0.0, 67.0, 10.0), hold(49, -30.0, 65.0, 10.0),
          hold(600, 0.0, 65.0, 20.0)};
}

TEST(DeskFlight, BeginsLevelOnDownwindAndIsAbeamWhenItSays) {
  const auto flown = Scene(250.0, 12.0).flown({hold(k_to_abeam)});
  EXPECT_EQ(flown.phase, DeskPhase::downwind);
  EXPECT_NEAR(flown.now.time_s, 0.0, 1e-9);
  // Height is held to a foot, and the drift is set once: what the wind changes with height is nothing here.
  EXPECT_NEAR(flown.now.along_ft, 0.0, 5.0);
  EXPECT_NEAR(flown.now.height_ft, 1000.0, 1.0);
  EXPECT_NEAR(flown.now.cross_ft, flown.track.front().cross_ft, 10.0);
}

TEST(DeskFlight, GoesOnFromWhereTheSameHandsHadBroughtIt) {
  const Scene scene(40.0, 12.0);
  auto holds = pattern();
  const auto whole = scene.flown(holds);
  holds.resize(3);
  holds.back().ticks -= 7;
  const auto part = scene.flown(holds);
  ASSERT_LT(part.track.size(), whole.track.size());
  for (std::size_t i = 0; i < part.track.size(); ++i) {
    EXPECT_EQ(part.track[i].along_ft, whole.track[i].along_ft);
    EXPECT_EQ(part.track[i].height_ft, whole.track[i].height_ft);
  }
  EXPECT_EQ(part.end, DeskEnd::under_way);
  EXPECT_EQ(part.now.height_ft, part.track.back().height_ft);
}

/// A turn at bank b and speed v turns g tan(b) / v. 2 %: the speed settles meanwhile.
TEST(DeskFlight, TurnsAsTheBankSays) {
  const auto flown = Scene().flown({hold(k_to_abeam + 75), hold(30, -30.0)});
  const Moment& late = flown.track[flown.track.size() - 1];
  const Moment& early = flown.track[flown.track.size() - 11];
  EXPECT_NEAR(late.bank_deg, -30.0, 0.5);
  const double fps = 0.5 * (late.true_airspeed_kt + early.true_airspeed_kt) * k_fps_per_knot;
  const double expected_deg =
      k_gravity_fps2 * std::tan(30.0 * k_radians_per_degree) / fps / k_radians_per_degree * 2.0;
  EXPECT_NEAR(early.heading_true_deg - late.heading_true_deg, expected_deg, 0.02 * expected_deg);
}

/// The other way round: pattern, wind and hands mirrored give the mirrored flight.
TEST(DeskFlight, IsItsOwnMirrorImage) {
  const auto left = Scene(40.0, 12.0).flown(pattern());
  Scene mirrored(320.0, 12.0);
  mirrored.conditions.traffic = Traffic::right;
  auto holds = pattern();
  for (auto& one : holds) one.hands.bank_deg = -one.hands.bank_deg;
  const auto right = mirrored.flown(holds);
  ASSERT_EQ(left.track.size(), right.track.size());
  // Rounding of the wind's sine and cosine only.
  EXPECT_NEAR(left.track.back().along_ft, right.track.back().along_ft, 1e-6);
  EXPECT_NEAR(left.track.back().cross_ft, -right.track.back().cross_ft, 1e-6);
}

/// The glide is the polar's: at 65 kt, idle and flaps up, as far for each foot as the airplane's own numbers
/// say. 2 %: the speed still settles by some tenths of a knot.
TEST(DeskFlight, GlidesAsTheAirplaneDoes) {
  const auto flown = Scene().flown({hold(k_to_abeam + 150, 0.0, 65.0)});
  const Moment& late = flown.track.back();
  const Moment& early = flown.track[flown.track.size() - 26];
  ASSERT_NEAR(late.calibrated_airspeed_kt, 65.0, 0.5);
  const double ratio = std::hypot(late.along_ft - early.along_ft, late.cross_ft - early.cross_ft) /
                       (early.height_ft - late.height_ft);
  const Scene scene;
  const double polar = steady_glide(scene.airplane.polar, Knots{65.0}, Pounds{scene.conditions.weight_lb},
                                    Degrees{0.0}, 0.0, 1.0)
                           .glide_ratio;
  EXPECT_NEAR(ratio, polar, 0.02 * polar);
}

TEST(DeskFlight, EndsOnTheGroundAndRollsToAWalk) {
  const auto flown = Scene().flown(pattern());
  ASSERT_TRUE(flown.touchdown);
  EXPECT_EQ(flown.touchdown->height_ft, 0.0);
  EXPECT_EQ(flown.phase, DeskPhase::down);
  EXPECT_LT(flown.track.back().groundspeed_kt, 6.0);
  for (std::size_t i = 1; i < flown.track.size(); ++i)
    EXPECT_GT(flown.track[i].time_s, flown.track[i - 1].time_s);
  // The same wheels on a runway that is elsewhere.
  Scene elsewhere;
  elsewhere.runway.from_ft = flown.touchdown->along_ft + 100.0;
  elsewhere.runway.to_ft = elsewhere.runway.from_ft + 3000.0;
  EXPECT_EQ(elsewhere.flown(pattern()).end, DeskEnd::off_the_runway);
}

TEST(DeskFlight, TakesOfTheHandsOnlyWhatTheAirplaneFlies) {
  const Scene scene;
  const auto slow = scene.flown({hold(k_to_abeam + 100, -80.0, 25.0, 25.0)});
  EXPECT_DOUBLE_EQ(slow.hands.bank_deg, -k_desk_steepest_deg);
  EXPECT_DOUBLE_EQ(slow.hands.calibrated_airspeed_kt, slow.limits.slowest_kcas);
  const double stall = scene.airplane.polar.stall_kcas(scene.conditions.weight_lb, slow.hands.flap_deg);
  EXPECT_GT(slow.limits.slowest_kcas, stall);
  double below = 0.0;
  for (const auto& flap : scene.airplane.handbook.flaps)
    if (flap.setting_deg <= 25.0) below = flap.setting_deg;
  EXPECT_EQ(slow.hands.flap_deg, below) << "the lever stands at a setting";
  EXPECT_GT(slow.now.calibrated_airspeed_kt, stall);
}

TEST(DeskFlight, SlipsOnlyWhereTheHandbookHasIt) {
  Scene scene;
  scene.airplane.handbook.slip_flap_limit_deg = 10.0;
  auto holds = std::vector{hold(k_to_abeam + 60), hold(50, 0.0, 70.0, 10.0), hold(50, 0.0, 70.0, 30.0)};
  for (auto& one : holds) one.hands.slip = true;
  const auto refused = scene.flown(holds);
  EXPECT_TRUE(refused.slip_forbidden);
  EXPECT_LT(refused.now.slip, 0.01);
  holds.pop_back();
  const auto slipping = scene.flown(holds);
  EXPECT_FALSE(slipping.slip_forbidden);
  EXPECT_GT(slipping.now.slip, 0.9);
  holds.back().hands.slip = false;
  EXPECT_LT(slipping.now.height_ft, scene.flown(holds).now.height_ft - 20.0) << "it costs height";
}

TEST(DeskFlight, GoesAroundWithPowerAndClimbs) {
  auto holds = pattern();
  holds.back().ticks = 40;
  holds.push_back(hold(1));
  holds.back().hands.go_around = true;
  const auto flown = Scene().flown(holds);
  EXPECT_EQ(flown.end, DeskEnd::went_around);
  EXPECT_FALSE(flown.touchdown);
  EXPECT_GT(flown.track.back().height_ft, flown.now.height_ft + 150.0);
  EXPECT_NEAR(flown.track.back().calibrated_airspeed_kt, flown.now.calibrated_airspeed_kt, 3.0);
}

TEST(DeskFlight, IsGivenUpWhenItNeverComesDown) {
  Scene high;
  high.technique.pattern_height_ft = 8000.0;
  EXPECT_EQ(high.flown({hold(10000)}).end, DeskEnd::out_of_time);
}

}  // namespace
}  // namespace glidewright

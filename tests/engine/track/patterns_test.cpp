// Patterns that the simulated reference flights do not show, drawn leg by leg.

#include <gtest/gtest.h>

#include <string>

#include "engine/track/attempts.hpp"
#include "engine/track/smooth.hpp"
#include "tests/engine/track/drawn_flight.hpp"

namespace glidewright {
namespace {

using drawn::Leg;
using drawn::operator+;
using drawn::turn_s;

RunwayFrame level_runway() {
  Runway runway;
  runway.designator = "09";
  runway.threshold = {10.0, 20.0};
  runway.true_bearing = {90.0};
  runway.elevation = {300.0};
  runway.length = {5000.0};
  return {runway, Feet{1000.0}};
}

std::vector<Attempt> attempts_in(const TrackLog& log) {
  const RunwayFrame frame = level_runway();
  return find_attempts(smooth(log, frame, Feet{4.0}), log, frame);
}

/// Flown in calm air so that the approach ends at the touchdown point.
TrackLog fly_to_the_point(const drawn::Start& start, const std::vector<Leg>& approach,
                          const std::vector<Leg>& after) {
  const RunwayFrame frame = level_runway();
  return drawn::fly(frame, drawn::aimed(frame, start, approach, 100.0), approach + after);
}

const std::vector<Leg> k_rollout = {{3.0, 55.0, 0.0}, {15.0, 10.0, 0.0}, {20.0, 5.0, 0.0}};
const drawn::Start k_downwind{4000.0, -2800.0, 1000.0, 180.0, 85.0};

// 85 kt downwind for 28 s to the point abeam, slow down, one turn of 180 degrees at 17 degrees of bank,
// final.
std::vector<Leg> continuous_turn() {
  return {{28.0, 85.0},
          {10.0, 68.0, -3.0},
          {3.0, 68.0, -13.0},
          {turn_s(180.0, 68.0, 15.0), 68.0, -11.5, -15.0},
          {15.0, 65.0, -15.0, 0.0},
          {9.0, 60.0, -18.0}};
}

TEST(Patterns, ContinuousTurnHasNoBase) {
  const auto found = attempts_in(fly_to_the_point(k_downwind, continuous_turn(), k_rollout));
  ASSERT_EQ(found.size(), 1u);
  const Attempt& a = found[0];
  EXPECT_EQ(a.outcome, Outcome::landed);
  EXPECT_EQ(a.kind, AttemptKind::power_off);  // 1,200 ft of energy height in 80 s: 1 in 8
  EXPECT_FALSE(a.base);
  ASSERT_TRUE(a.base_turn);
  // Drawn without delay between command and roll: the roll-in begins at 41 s, the reported command up to 1.4
  // s before.
  EXPECT_NEAR(a.base_turn->time_unix_s - drawn::k_first_unix_s, 40.3, 1.2);
  ASSERT_TRUE(a.base_turn_bank);
  EXPECT_NEAR(a.base_turn_bank->bank_deg, 15.0, 3.0);
  ASSERT_TRUE(a.gate);
}

// The steepest bank of a noisy track lies above the one held, its mean between roll-in and roll-out on it.
TEST(Patterns, BankHeldThroughASquareTurn) {
  const RunwayFrame frame = level_runway();
  for (const double bank_deg : {20.0, 30.0}) {
    const std::vector<Leg> legs = {{28.0, 85.0},
                                   {10.0, 68.0, -3.0},
                                   {3.0, 68.0, -13.0},
                                   {turn_s(90.0, 68.0, bank_deg), 68.0, -11.5, -bank_deg},
                                   {12.0, 68.0, -13.0, 0.0},
                                   {turn_s(90.0, 68.0, bank_deg), 68.0, -11.5, -bank_deg},
                                   {15.0, 65.0, -15.0, 0.0},
                                   {9.0, 60.0, -18.0}};
    const drawn::Start start = drawn::aimed(frame, k_downwind, legs, 100.0);
    for (const std::uint32_t seed : {1u, 2u, 3u, 4u}) {
      const auto found = attempts_in(drawn::fly(frame, start, legs + k_rollout, {}, {.seed = seed}));
      ASSERT_EQ(found.size(), 1u);
      for (const auto& bank : {found[0].base_turn_bank, found[0].final_turn_bank}) {
        ASSERT_TRUE(bank && bank->held_deg);
        // A second between fixes of a foot: some 0.03 g, over three seconds 1 degree.
        EXPECT_NEAR(*bank->held_deg, bank_deg, 2.0) << "seed " << seed;
        EXPECT_LE(*bank->held_deg, bank->bank_deg);
      }
    }
  }
}

TEST(Patterns, StraightInHasNoDownwind) {
  // Two miles on a path of 3 degrees, 1 in 19, with power.
  const drawn::Start far{.speed_kt = 70.0};
  const auto landed = attempts_in(fly_to_the_point(far, {{103.0, 70.0, -6.2}}, k_rollout));
  ASSERT_EQ(landed.size(), 1u);
  EXPECT_EQ(landed[0].outcome, Outcome::landed);
  EXPECT_EQ(landed[0].kind, AttemptKind::power_assisted);
  EXPECT_FALSE(landed[0].abeam);
  EXPECT_FALSE(landed[0].base_turn);
  ASSERT_TRUE(landed[0].gate);
  EXPECT_NEAR(landed[0].gate->height_ft, 200.0, 1.0);
}

TEST(Patterns, LowPassIsAGoAroundNotALanding) {
  const std::vector<Leg> low_pass = {{20.0, 65.0, 0.2}, {40.0, 75.0, 12.0}};
  const RunwayFrame frame = level_runway();
  const auto legs = continuous_turn();
  drawn::Start start = drawn::aimed(frame, k_downwind, legs, -1000.0);
  start.height_ft += 40.0;
  const auto found = attempts_in(drawn::fly(frame, start, legs + low_pass));
  ASSERT_EQ(found.size(), 1u);
  EXPECT_EQ(found[0].outcome, Outcome::go_around);
  ASSERT_TRUE(found[0].go_around);
  EXPECT_LT(found[0].go_around->height_ft, 150.0);
}

TEST(Patterns, GivenUpOnBase) {
  const std::vector<Leg> up = {{28.0, 85.0},
                               {10.0, 70.0, -5.0},
                               {8.0, 68.0, -14.0},
                               {turn_s(90.0, 68.0, 25.0), 68.0, -14.0, -25.0},
                               {5.0, 68.0, -12.0, 0.0},
                               {turn_s(90.0, 75.0, 25.0), 75.0, 8.0, -25.0},
                               {40.0, 75.0, 12.0, 0.0}};
  const auto found = attempts_in(drawn::fly(level_runway(), k_downwind, up));
  ASSERT_EQ(found.size(), 1u);
  EXPECT_EQ(found[0].outcome, Outcome::go_around);
  EXPECT_TRUE(found[0].base_turn);
}

TEST(Patterns, LevelFlightIsNoAttempt) {
  const RunwayFrame frame = level_runway();
  // Over the runway in landing direction, across it, and a circuit at pattern height that never descends.
  EXPECT_TRUE(attempts_in(drawn::fly(frame, {-20000.0, 0.0, 1200.0, 0.0, 90.0}, {{300.0, 90.0}})).empty());
  EXPECT_TRUE(attempts_in(drawn::fly(frame, {0.0, -20000.0, 2500.0, 90.0, 90.0}, {{300.0, 90.0}})).empty());
  EXPECT_TRUE(
      attempts_in(drawn::fly(frame, {9000.0, -3500.0, 3000.0, 180.0, 90.0}, {{200.0, 90.0}})).empty());
}

TEST(Patterns, DepartureIsNoAttempt) {
  const drawn::Start parked{-900.0, 0.0, 0.0, 0.0, 0.0};
  const std::vector<Leg> departure = {{20.0, 0.0}, {18.0, 60.0}, {60.0, 75.0, 11.0}, {200.0, 90.0, 8.0, 0.0}};
  EXPECT_TRUE(attempts_in(drawn::fly(level_runway(), parked, departure)).empty());
}

TEST(Patterns, TaxiBackIsALanding) {
  // Stops, turns round on the runway, rolls back and takes off again.
  const std::vector<Leg> back = {{6.0, 5.0}, {7.0, 6.0, 0.0, 10.0}, {30.0, 15.0, 0.0, 0.0}};
  const std::vector<Leg> turn = {{turn_s(180.0, 8.0, 5.0) + 5.0, 8.0, 0.0, 5.0}, {5.0, 0.0, 0.0, 0.0}};
  const std::vector<Leg> off = {{20.0, 60.0}, {60.0, 75.0, 11.0}};
  const auto found =
      attempts_in(fly_to_the_point(k_downwind, continuous_turn(), k_rollout + back + turn + off));
  ASSERT_EQ(found.size(), 1u);
  EXPECT_EQ(found[0].outcome, Outcome::landed);
}

TEST(Patterns, GliderFlatterThanAnyIdleIsNotCalledPowerOff) {
  // 1 in 20: a sailplane, or an airplane with power. The track cannot tell a sailplane's brakes from an idle
  // engine.
  const std::vector<Leg> flat = {{28.0, 60.0},
                                 {20.0, 55.0, -4.0},
                                 {turn_s(180.0, 55.0, 12.0), 55.0, -5.0, -12.0},
                                 {60.0, 55.0, -5.0, 0.0}};
  const drawn::Start glider{2800.0, -3000.0, 700.0, 180.0, 60.0};
  for (const Attempt& a : attempts_in(drawn::fly(level_runway(), glider, flat))) {
    EXPECT_NE(a.kind, AttemptKind::power_off);
  }
}

TEST(Patterns, FoundAtAnyRateAndInAnyWind) {
  const RunwayFrame frame = level_runway();
  for (const double step_s : {0.1, 1.0, 2.0, 5.0}) {
    for (const double side : {1.0, -1.0}) {
      for (const double wind_fps : {-15.0, 0.0, 15.0}) {
        auto legs = continuous_turn();
        for (Leg& leg : legs) leg.bank_deg *= side;
        drawn::Start start = k_downwind;
        start.cross_ft *= side;
        const drawn::Wind wind{0.0, wind_fps};
        start = drawn::aimed(frame, start, legs, 100.0, wind);
        const auto found =
            attempts_in(drawn::fly(frame, start, legs + k_rollout, wind, {.step_s = step_s, .seed = 7}));
        const std::string which = std::to_string(step_s) + " s, side " + std::to_string(side) + ", wind " +
                                  std::to_string(wind_fps);
        ASSERT_EQ(found.size(), 1u) << which;
        EXPECT_EQ(found[0].traffic, side > 0.0 ? Traffic::left : Traffic::right) << which;
        EXPECT_TRUE(found[0].abeam) << which;
        EXPECT_TRUE(found[0].base_turn) << which;
      }
    }
  }
}

}  // namespace
}  // namespace glidewright

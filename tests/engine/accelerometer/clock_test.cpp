#include "engine/accelerometer/clock.hpp"

#include <gtest/gtest.h>

#include "tests/engine/debrief/felt_landings.hpp"

namespace glidewright {
namespace {

using testing::Dice;

struct Worn {
  testing::FeltFlight flight;
  AccelerometerLog felt;
};

Worn worn(unsigned seed, double ahead_s) {
  Dice dice(seed);
  Worn one{testing::felt_flight(1.0, dice), {}};
  one.flight.phone.ahead_s = ahead_s;
  one.felt = testing::gathered(testing::feel(one.flight.flight, one.flight.phone, dice));
  return one;
}

/// What a phone writes that lies on a table for the time of the flight.
AccelerometerLog at_rest_meanwhile(const Worn& one) {
  Dice dice(3);
  VibrationMeter meter;
  for (double t = one.felt.start_s; t < one.felt.end_s(); t += 0.02)
    meter.add(t, {dice.normal(0.0, 0.05), dice.normal(0.0, 0.05), dice.normal(9.81, 0.05)});
  return meter.finish();
}

TEST(KnownClock, HasTheSpreadThatWasSaid) {
  const ClockOffset clock = known_clock(2.5, 0.15);
  EXPECT_NEAR(clock.mean_s(), 2.5, 1e-9);
  EXPECT_NEAR(clock.sd_s(), 0.15, 0.002);  // cut at 3.5
}

TEST(Clock, IsFoundWhereverItStands) {
  for (const double ahead_s : {0.0, -37.5, 412.0, 7203.0}) {
    const Worn one = worn(11, ahead_s);
    const RoughClock rough = find_rough_clock(one.felt, one.flight.track);
    ASSERT_TRUE(rough.ahead_s) << ahead_s << ": " << rough.reason;
    EXPECT_NEAR(*rough.ahead_s, ahead_s, 2.5);
    const auto fine = find_fine_clock(one.felt, one.flight.track, *rough.ahead_s, one.flight.rough_unix_s);
    ASSERT_TRUE(fine);
    EXPECT_NEAR(fine->mean_s(), ahead_s, 3.5 * fine->sd_s());
  }
}

TEST(Clock, OfAPhoneThatCountsFromItsOwnStartIsFoundToo) {
  Worn one = worn(11, 0.0);
  const double started_s = one.felt.start_s;
  one.felt.start_s = 0.0;
  one.felt.counts_from_own_start = true;
  const RoughClock rough = find_rough_clock(one.felt, one.flight.track);
  ASSERT_TRUE(rough.ahead_s) << rough.reason;
  EXPECT_NEAR(*rough.ahead_s, -started_s, 2.5);
}

TEST(Clock, IsNotFoundInAPhoneThatLayOnATable) {
  const Worn one = worn(11, 0.0);
  const RoughClock rough = find_rough_clock(at_rest_meanwhile(one), one.flight.track);
  EXPECT_FALSE(rough.ahead_s);
  EXPECT_FALSE(rough.reason.empty());
}

TEST(Clock, IsNotFoundWhereTheTwoShareOnlyAMinute) {
  Worn one = worn(11, 0.0);
  one.felt.blocks.resize(600);
  EXPECT_FALSE(find_rough_clock(one.felt, one.flight.track).ahead_s);
}

TEST(Clock, ErrorsAreAsLargeAsTheyAreSaidToBe) {
  double squares = 0.0;
  int found = 0, astray = 0;
  constexpr int flights = 30;
  for (unsigned i = 0; i < flights; ++i) {
    const Worn one = worn(500 + i, 1.3);
    const RoughClock rough = find_rough_clock(one.felt, one.flight.track);
    if (!rough.ahead_s) continue;
    astray += std::abs(*rough.ahead_s - 1.3) > 4.0;
    const auto fine = find_fine_clock(one.felt, one.flight.track, *rough.ahead_s, one.flight.rough_unix_s);
    if (!fine) continue;
    ++found;
    const double off = (fine->mean_s() - 1.3) / fine->sd_s();
    squares += off * off;
  }
  EXPECT_EQ(astray, 0);
  EXPECT_GE(found, flights / 2);
  // The mean of 20 squares of unit normals stays below 1.9 in 99 of 100.
  EXPECT_LT(squares / found, 1.9);
}

// Somebody tells the clock; where that is right nothing may speak against it, and where it is wrong by more
// than a rough clock's error, what is shown must be near the truth. Both over random flights and phones.
TEST(ToldClock, IsContradictedWhereItIsWrongAndNotWhereItIsRight) {
  constexpr int flights = 30;
  constexpr double truth_s = 1.3;
  int contradicted_though_right = 0, a_minute_off_found_out = 0;
  for (unsigned i = 0; i < flights; ++i) {
    const Worn one = worn(500 + i, truth_s);
    const RoughClock rough = find_rough_clock(one.felt, one.flight.track);
    const auto shown = [&](double told_s) {
      return clock_shown_otherwise(one.felt, one.flight.track, rough, known_clock(told_s, 0.15),
                                   one.flight.rough_unix_s);
    };
    contradicted_though_right += shown(truth_s).has_value();
    if (const auto instead = shown(truth_s + 60.0)) {
      ++a_minute_off_found_out;
      EXPECT_NEAR(*instead, truth_s, 4.0);
    }
  }
  EXPECT_EQ(contradicted_though_right, 0);
  EXPECT_GE(a_minute_off_found_out, flights / 2);
}

TEST(ToldClock, OfAFewSecondsOffIsFoundOutByTheTurns) {
  const Worn one = worn(11, 0.0);
  const RoughClock rough = find_rough_clock(one.felt, one.flight.track);
  const auto shown = clock_shown_otherwise(one.felt, one.flight.track, rough, known_clock(3.0, 0.15),
                                           one.flight.rough_unix_s);
  ASSERT_TRUE(shown);
  EXPECT_NEAR(*shown, 0.0, 1.0);
}

TEST(ToldClock, OfAPhoneThatLayOnATableStands) {
  const Worn one = worn(11, 0.0);
  const AccelerometerLog felt = at_rest_meanwhile(one);
  EXPECT_FALSE(clock_shown_otherwise(felt, one.flight.track, find_rough_clock(felt, one.flight.track),
                                     known_clock(60.0, 0.15), one.flight.rough_unix_s));
}

}  // namespace
}  // namespace glidewright

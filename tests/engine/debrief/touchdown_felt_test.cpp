#include "engine/debrief/touchdown_felt.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "felt_landings.hpp"

namespace glidewright {
namespace {

using testing::ClockGiven;
using testing::Dice;
using ::testing::HasSubstr;

struct Worn {
  testing::FeltFlight flight;
  std::vector<testing::PhoneReading> readings;

  FeltTouchdown touchdown(const AccelerometerLog& felt, double ahead_s = 0.0) const {
    return touchdown_as_felt(flight.log, flight.frame, flight.track, flight.rough_unix_s, flight.prior, felt,
                             known_clock(ahead_s, 0.1));
  }
  FeltTouchdown touchdown() const { return touchdown(testing::gathered(readings)); }
};

/// A firm landing in calm air, a phone that says what it feels.
Worn ordinary(unsigned seed) {
  Dice dice(seed);
  Worn one{testing::felt_flight(1.0, dice), {}};
  testing::PhoneRecipe phone;
  phone.gust_mps2 = 0.2;
  one.flight.phone = phone;
  one.readings = testing::feel(one.flight.flight, phone, dice);
  return one;
}

// Forty flights; ./measure accelerometer flies five hundred.
TEST(TouchdownAsFelt, IsKnownToAFewFeetAndSaysSo) {
  const auto scores = testing::score_felt(1.0, ClockGiven::same, 77, 40);
  const testing::FeltScore& all = scores.at("all");
  EXPECT_GE(all.used, 30);
  EXPECT_LE(all.median_error_ft(), 15.0);
  EXPECT_LE(all.median_width_ft(), 90.0);
  // Of 36 intervals that are right in 95 of 100, four or fewer miss in 98 cases of a hundred.
  EXPECT_GE(all.inside_percent(), 88.0);
  EXPECT_LT(all.median_error_ft(), 0.5 * all.median_error_positions_ft());
}

TEST(TouchdownAsFelt, HoldsTheTruthWhereTheClockHadToBeFound) {
  const auto scores = testing::score_felt(1.0, ClockGiven::none, 99, 40);
  const testing::FeltScore& all = scores.at("all");
  EXPECT_GE(all.used, 20);
  EXPECT_LE(all.median_error_ft(), 40.0);
  EXPECT_GE(all.inside_percent(), 85.0);
}

TEST(TouchdownAsFelt, DoesNotCareHowThePhoneLies) {
  const Worn one = ordinary(5);
  auto turned = one.readings;
  for (auto& reading : turned) reading.mps2 = {reading.mps2[1], -reading.mps2[2], reading.mps2[0]};
  const auto a = one.touchdown(), b = one.touchdown(testing::gathered(turned));
  ASSERT_TRUE(a.touchdown && b.touchdown) << a.left_out_because << b.left_out_because;
  EXPECT_NEAR(a.touchdown->along_ft, b.touchdown->along_ft, 0.1);  // blocks keep floats
}

TEST(TouchdownAsFelt, FollowsAClockThatIsTold) {
  Worn one = ordinary(5);
  const auto plain = one.touchdown();
  for (auto& reading : one.readings) reading.time_s += 3.0;
  const auto told = one.touchdown(testing::gathered(one.readings), 3.0);
  ASSERT_TRUE(plain.touchdown && told.touchdown);
  // A tenth of a second's blocks fall elsewhere.
  EXPECT_NEAR(plain.touchdown->along_ft, told.touchdown->along_ft, 5.0);
}

TEST(TouchdownAsFelt, SaysWhatItStandsOn) {
  const auto felt = ordinary(5).touchdown();
  ASSERT_TRUE(felt.touchdown);
  EXPECT_THAT(felt.touchdown->basis, HasSubstr("accelerometer: wheels felt within"));
}

TEST(TouchdownAsFelt, IsLeftOutWhereThePhoneFeltNothing) {
  const Worn one = ordinary(5);
  Dice dice(8);
  auto calm = one.readings;
  for (auto& reading : calm) reading.mps2 = {dice.normal(0.0, 0.05), dice.normal(0.0, 0.05), 9.81};
  const auto felt = one.touchdown(testing::gathered(calm));
  EXPECT_FALSE(felt.touchdown);
  EXPECT_FALSE(felt.left_out_because.empty());
}

TEST(TouchdownAsFelt, IsLeftOutWhereItStoppedBeforeTheLanding) {
  Worn one = ordinary(5);
  std::erase_if(one.readings,
                [&](const auto& reading) { return reading.time_s > one.flight.touchdown_unix_s - 5.0; });
  const auto felt = one.touchdown();
  EXPECT_FALSE(felt.touchdown);
  EXPECT_THAT(felt.left_out_because, HasSubstr("no readings"));
}

TEST(TouchdownAsFelt, TellsABounceFromARoll) {
  double bounced = 0.0, rolled = 0.0;
  int n_bounced = 0, n_rolled = 0;
  for (unsigned seed = 1; seed <= 40; ++seed) {
    Dice dice(seed);
    auto recipe = testing::random_recipe(dice);
    recipe.power_after_s = 1e3;
    recipe.bounce_ft = seed % 2 == 0 ? 1.2 : 0.0;
    testing::FeltFlight flight = testing::felt_flight(recipe, 1.0, dice);
    testing::PhoneRecipe phone;
    phone.gust_mps2 = 0.2;
    const auto felt = touchdown_as_felt(
        flight.log, flight.frame, flight.track, flight.rough_unix_s, flight.prior,
        testing::gathered(testing::feel(flight.flight, phone, dice)), known_clock(0.0, 0.1));
    if (!felt.touchdown) continue;
    (seed % 2 == 0 ? bounced : rolled) += felt.bounce_probability;
    ++(seed % 2 == 0 ? n_bounced : n_rolled);
  }
  ASSERT_GT(n_bounced, 10);
  ASSERT_GT(n_rolled, 10);
  EXPECT_GT(bounced / n_bounced, 0.6);
  EXPECT_LT(rolled / n_rolled, 0.3);
}

}  // namespace
}  // namespace glidewright

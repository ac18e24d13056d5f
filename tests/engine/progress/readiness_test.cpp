#include "engine/progress/readiness.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

#include "engine/plan/binomial.hpp"

namespace glidewright {
namespace {

std::vector<double> outcomes(int made, int of) {
  std::vector<double> all(static_cast<std::size_t>(of), 0.0);
  for (int i = 0; i < made; ++i) all[static_cast<std::size_t>(i)] = 1.0;
  return all;
}

RatedAttempt landed(double probability) {
  RatedAttempt one;
  one.probability_met = one.probability_in_box = probability;
  return one;
}

RatedAttempt around(bool sound) {
  RatedAttempt one;
  one.end = RatedAttempt::End::went_around;
  one.sound_go_around = sound;
  return one;
}

/// All of n made: p^n = 1 - confidence, closed form of Clopper and Pearson (Biometrika 26, 1934).
TEST(Readiness, AFewGoodLandingsProveLittle) {
  EXPECT_NEAR(lower_bound(outcomes(3, 3), 0.90), std::pow(0.1, 1.0 / 3.0), 1e-9);     // 9 in 20
  EXPECT_NEAR(lower_bound(outcomes(11, 11), 0.90), std::pow(0.1, 1.0 / 11.0), 1e-9);  // 16 in 20
  EXPECT_EQ(lower_bound(outcomes(0, 5), 0.90), 0.0);
  EXPECT_EQ(lower_bound({}, 0.90), 0.0);
}

/// A two-sided 95 % interval's low end is a one-sided 97.5 % bound.
TEST(Readiness, IsClopperAndPearsonsBoundWhereEveryOutcomeIsSeen) {
  for (const auto& [made, of] : {std::pair{3, 20}, {42, 100}, {19, 20}, {1, 7}}) {
    EXPECT_NEAR(lower_bound(outcomes(made, of), 0.975), clopper_pearson(made, of, 0.95).low, 1e-9);
  }
}

TEST(Readiness, AnUnsureTouchdownProvesLessThanASeenOne) {
  auto unsure = outcomes(10, 10);
  double before = lower_bound(unsure, 0.90);
  for (const double chance : {0.9, 0.7, 0.5}) {
    unsure.back() = chance;
    const double now = lower_bound(unsure, 0.90);
    EXPECT_LT(now, before);
    before = now;
  }
  EXPECT_GT(before, lower_bound(outcomes(9, 10), 0.90));
}

TEST(Readiness, MoreSuccessesNeverProveLess) {
  for (int made = 0; made < 20; ++made) {
    EXPECT_LT(lower_bound(outcomes(made, 20), 0.90), lower_bound(outcomes(made + 1, 20), 0.90) + 1e-12);
  }
}

/// The bound lies below the truth nine times in ten or more, unsure touchdowns included.
TEST(Readiness, TheBoundHoldsNineTimesInTen) {
  std::mt19937_64 random(11);
  std::uniform_real_distribution<double> uniform(0.0, 1.0);
  for (const double truth : {0.3, 0.6, 0.85}) {
    int held = 0;
    constexpr int students = 1500;
    for (int i = 0; i < students; ++i) {
      std::vector<double> seen;
      for (int k = 0; k < 20; ++k) {
        const bool met = uniform(random) < truth;
        // Half of the touchdowns are unsure: the log gives the right side a probability between 1/2 and 1,
        // and is right as often as it says.
        double chance = met ? 1.0 : 0.0;
        if (k % 2 == 0) {
          const double sureness = 0.5 + 0.5 * uniform(random);
          const bool right = uniform(random) < sureness;
          chance = (met == right) ? sureness : 1.0 - sureness;
        }
        seen.push_back(chance);
      }
      held += lower_bound(seen, 0.90) <= truth;
    }
    EXPECT_GE(held, static_cast<int>(0.885 * students)) << truth;
  }
}

TEST(Readiness, AGoAroundIsNotDemonstratedAndItsDecisionStandsApart) {
  const Readiness with = readiness({landed(1.0), landed(1.0), around(true), landed(1.0)});
  EXPECT_EQ(with.met.of, 4);
  EXPECT_DOUBLE_EQ(with.met.made, 3.0);
  EXPECT_EQ(with.in_box_of_landed.of, 3);
  EXPECT_EQ(with.go_around_decisions.of, 1);
  EXPECT_DOUBLE_EQ(with.go_around_decisions.made, 1.0);
  EXPECT_LT(with.at_least, readiness({landed(1.0), landed(1.0), landed(1.0)}).at_least);
}

TEST(Readiness, LeavesOutWhatTheStudentDidNotFlyAloneAndWhatWasForced) {
  RatedAttempt prompted = landed(1.0);
  prompted.flown_by = FlownBy::student_prompted;
  RatedAttempt forced = around(false);
  forced.forced = true;
  const Readiness result = readiness({landed(1.0), prompted, forced, landed(0.0)});
  EXPECT_EQ(result.met.of, 2);
  EXPECT_EQ(result.left_out_not_alone, 1);
  EXPECT_EQ(result.left_out_forced, 1);
  EXPECT_EQ(result.go_around_decisions.of, 0);
}

/// Four kinds, of which the first counts; and what was said before they were told apart.
TEST(Readiness, OnlyWhatTheStudentFlewAloneCountsAndTheRestIsToldByWhoFlew) {
  std::vector<RatedAttempt> attempts{landed(1.0)};
  for (const FlownBy flown_by : {FlownBy::student_prompted, FlownBy::student_prompted, FlownBy::instructor,
                                 FlownBy::controls_taken, FlownBy::not_alone}) {
    attempts.push_back(landed(1.0));
    attempts.back().flown_by = flown_by;
    EXPECT_FALSE(attempts.back().student_alone());
  }
  const Readiness result = readiness(attempts);
  EXPECT_EQ(result.met.of, 1);
  EXPECT_EQ(result.left_out_not_alone, 5);
  const std::map<FlownBy, int> by{{FlownBy::student_prompted, 2},
                                  {FlownBy::instructor, 1},
                                  {FlownBy::controls_taken, 1},
                                  {FlownBy::not_alone, 1}};
  EXPECT_EQ(result.not_alone_by, by);
}

TEST(Readiness, OnlyTheLastOfTheWindowCount) {
  std::vector<RatedAttempt> attempts(15, landed(0.0));
  attempts.insert(attempts.end(), 20, landed(1.0));
  const Readiness result = readiness(attempts);
  EXPECT_EQ(result.met.of, 20);
  EXPECT_DOUBLE_EQ(result.met.made, 20.0);
  EXPECT_EQ(result.more_without_a_miss, 0);
}

/// 0.8^n <= 0.1 first at n = 11.
TEST(Readiness, SaysHowManyMoreWithoutAMiss) {
  EXPECT_EQ(readiness({}).more_without_a_miss, 11);
  EXPECT_EQ(readiness({landed(1.0), landed(1.0)}).more_without_a_miss, 9);
  EXPECT_GT(readiness({landed(0.0), landed(1.0)}).more_without_a_miss, 11);
}

/// Jeffreys' prior: Beta(k + 1/2, n - k + 1/2), mean (k + 1/2) / (n + 1).
TEST(Readiness, TheNextAttemptHasAnInterval) {
  const Readiness result = readiness({landed(1.0), landed(1.0), landed(1.0), landed(0.0)});
  EXPECT_NEAR(result.next_mean, 3.5 / 5.0, 1e-12);
  EXPECT_LT(result.next_low90, result.next_mean);
  EXPECT_GT(result.next_high90, result.next_mean);
  EXPECT_NEAR(incomplete_beta(3.5, 1.5, result.next_high90) - incomplete_beta(3.5, 1.5, result.next_low90),
              0.9, 1e-6);
}

}  // namespace
}  // namespace glidewright

#include "engine/drill/score.hpp"

#include <gtest/gtest.h>

namespace glidewright {
namespace {

DrillAnswer answer(Energy said, Energy truth, Sureness sureness = Sureness::fairly) {
  return {said, truth, sureness, std::nullopt, std::nullopt};
}

TEST(DrillScore, OfNothingSaysNothing) {
  const DrillScore score = score_of({});
  EXPECT_EQ(score.all.of, 0);
  EXPECT_EQ(score.all.high90, 1.0);
  EXPECT_FALSE(score.leans());
  EXPECT_FALSE(score.median_mark_ft);
}

TEST(DrillScore, CountsBySureness) {
  const DrillScore score = score_of({answer(Energy::on, Energy::on, Sureness::sure),
                                     answer(Energy::on, Energy::high, Sureness::guess),
                                     answer(Energy::low, Energy::low, Sureness::sure)});
  EXPECT_EQ(score.all.right, 2);
  EXPECT_EQ(score.by_sureness[2].right, 2);
  EXPECT_EQ(score.by_sureness[0].of, 1);
  EXPECT_EQ(score.by_sureness[0].right, 0);
  EXPECT_EQ(score.said_too_low, 1);
}

/// 0 of 5 at 90 %: the upper end is 1 - 0.05^(1/5) = 0.451. Source: Clopper and Pearson, Biometrika 26
/// (1934), their formula for no success.
TEST(DrillScore, HasTheExactInterval) {
  std::vector<DrillAnswer> all(5, answer(Energy::low, Energy::high));
  EXPECT_NEAR(score_of(all).all.high90, 0.4507, 1e-4);
  EXPECT_EQ(score_of(all).all.low90, 0.0);
}

/// The two-sided sign test: 6 of 6 is 2 / 2^6 = 0.03125, 5 of 6 is 2 * 7 / 64 = 0.21875. Source: the binomial
/// distribution, by hand.
TEST(DrillScore, LeansWhereTheSignTestSaysSo) {
  std::vector<DrillAnswer> misses(6, answer(Energy::low, Energy::on));
  EXPECT_NEAR(score_of(misses).bias_p, 0.03125, 1e-9);
  EXPECT_TRUE(score_of(misses).leans());
  misses.back() = answer(Energy::high, Energy::on);
  EXPECT_NEAR(score_of(misses).bias_p, 0.21875, 1e-9);
  EXPECT_FALSE(score_of(misses).leans());
  EXPECT_EQ(score_of({answer(Energy::low, Energy::on), answer(Energy::high, Energy::on)}).bias_p, 1.0);
}

TEST(DrillScore, AMarkIsMeasuredAlongTheCourseThere) {
  Situation situation;
  situation.energy = Energy::on;
  situation.in_20_s.along_ft = -2000.0;
  situation.in_20_s.cross_ft = -1000.0;
  situation.in_20_s.heading_true_deg =
      330.0;  // base of a left-hand pattern to runway 24: across, to the right
  const auto marked = [&](double along_ft, double cross_ft) {
    return answer_to(situation, Energy::on, Sureness::sure, RunwayPoint{along_ft, cross_ft}, 240.0);
  };
  EXPECT_NEAR(*marked(-2000.0, -700.0).mark_ahead_ft, 300.0, 1e-9);
  EXPECT_NEAR(*marked(-2000.0, -700.0).mark_right_ft, 0.0, 1e-9);
  EXPECT_NEAR(*marked(-1800.0, -1000.0).mark_right_ft, -200.0, 1e-9)
      << "towards the runway's end is left of it";
  EXPECT_FALSE(answer_to(situation, Energy::on, Sureness::sure, std::nullopt, 240.0).mark_ahead_ft);
}

TEST(DrillScore, MarksHaveAMedianAndAMean) {
  std::vector<DrillAnswer> all;
  for (const double ahead : {100.0, 200.0, 600.0}) {
    DrillAnswer one = answer(Energy::on, Energy::on);
    one.mark_ahead_ft = ahead;
    one.mark_right_ft = 0.0;
    all.push_back(one);
  }
  const DrillScore score = score_of(all);
  EXPECT_EQ(score.marks, 3);
  EXPECT_DOUBLE_EQ(*score.median_mark_ft, 200.0);
  EXPECT_DOUBLE_EQ(*score.mean_ahead_ft, 300.0);
  // Sample deviation sqrt((200^2 + 100^2 + 300^2) / 2) = 264.58, over sqrt(3).
  EXPECT_NEAR(*score.mean_ahead_sd_ft, 152.75, 0.01);
}

}  // namespace
}  // namespace glidewright

#include "formats/drill_over_time.hpp"

#include <gmock/gmock.h>

namespace glidewright {
namespace {

/// Answered a day after the other, of a moment that was high.
KeptAnswer answered(int day, Energy said, double ahead_ft) {
  KeptAnswer one;
  one.number = day + 1;
  one.time_unix_s = 1.8e9 + 86400.0 * day;
  one.answer.said = said;
  one.answer.truth = Energy::high;
  one.answer.mark_ahead_ft = ahead_ft;
  one.answer.mark_right_ft = 0.0;
  return one;
}

TEST(DrillOverTime, GoesInTwentiesByTheTimeOfTheAnswer) {
  std::vector<KeptAnswer> answers;
  // Brought in late first, as archives may.
  for (int day = 49; day >= 0; --day)
    answers.push_back(answered(day, day < 20 ? Energy::low : Energy::high, day % 2 == 0 ? 400.0 : 200.0));
  const auto periods = drill_periods(answers);
  ASSERT_EQ(periods.size(), 3U);
  EXPECT_EQ(periods[0].score.all.of, 20);
  EXPECT_EQ(periods[0].score.all.right, 0);
  EXPECT_EQ(periods[0].score.said_too_low, 20);
  EXPECT_EQ(periods[1].score.all.right, 20);
  EXPECT_EQ(periods[1].score.said_too_low, 0);
  EXPECT_EQ(periods[2].score.all.of, 10);
  EXPECT_EQ(periods[0].first_unix_s, 1.8e9);
  EXPECT_EQ(periods[2].last_unix_s, 1.8e9 + 86400.0 * 49);
  // Half at 400 and half at 200: 300 in the mean, and by the sample's formula sqrt(20/19) times 100 apart.
  EXPECT_NEAR(*periods[0].score.mean_ahead_ft, 300.0, 1e-9);
  EXPECT_NEAR(*periods[0].ahead_spread_ft, 100.0 * std::sqrt(20.0 / 19.0), 1e-9);
  const auto words = drill_period_words(periods);
  ASSERT_EQ(words.size(), 3U);
  EXPECT_THAT(words[0],
              ::testing::HasSubstr("2027-01-15 to 2027-02-03: 0 of 20 right; 20 too low, 0 too high"));
  EXPECT_THAT(words[0], ::testing::HasSubstr("+300 ft ahead on average, scattering by 100 ft"));
}

TEST(DrillOverTime, AShortRestGoesToThePartBeforeIt) {
  std::vector<KeptAnswer> answers;
  EXPECT_TRUE(drill_periods(answers).empty());
  for (int day = 0; day < 29; ++day) answers.push_back(answered(day, Energy::high, 0.0));
  EXPECT_EQ(drill_periods(answers).size(), 1U);
  EXPECT_TRUE(drill_period_words(drill_periods(answers)).empty()) << "the score says the same";
  answers.push_back(answered(29, Energy::high, 0.0));
  EXPECT_EQ(drill_periods(answers).size(), 2U);
}

}  // namespace
}  // namespace glidewright

#include "engine/progress/practice.hpp"

#include <gtest/gtest.h>

namespace glidewright {
namespace {

PractisedAttempt attempt(double met, double base_turn_ft = 0.0, double wind_kt = 8.0) {
  PractisedAttempt one;
  one.rated.probability_met = met;
  one.causes = {{"base turn", base_turn_ft, base_turn_ft - 50.0, base_turn_ft + 50.0}};
  one.wind_kt = wind_kt;
  one.airplane = "demo-trainer";
  one.instructor = "A. Instructor";
  return one;
}

/// Student, Biometrika 6 (1908); values of the printed tables: t(0.95; 2) = 2.920, t(0.95; 9) = 1.833,
/// t(0.975; 4) = 2.776.
TEST(StudentT, HasTheTablesValues) {
  EXPECT_NEAR(student_t_quantile(0.95, 2.0), 2.920, 5e-4);
  EXPECT_NEAR(student_t_quantile(0.95, 9.0), 1.833, 5e-4);
  EXPECT_NEAR(student_t_quantile(0.975, 4.0), 2.776, 5e-4);
  EXPECT_NEAR(student_t_quantile(0.05, 9.0), -1.833, 5e-4);
  EXPECT_NEAR(student_t_quantile(0.5, 7.0), 0.0, 1e-9);
}

TEST(Progress, OfNothingSaysNothing) {
  const StudentProgress progress = progress_of({});
  EXPECT_TRUE(progress.causes.empty());
  EXPECT_FALSE(progress.learning);
  EXPECT_TRUE(progress.practise.empty());
}

/// Mean -200, sample deviation 100, half width 2.920 * 100 / sqrt(3) = 168.6: by hand.
TEST(Progress, ACauseHasItsMeanAndWhatIsKnownOfIt) {
  const StudentProgress progress =
      progress_of({attempt(1.0, -100.0), attempt(1.0, -200.0), attempt(1.0, -300.0)});
  ASSERT_EQ(progress.causes.size(), 1U);
  const CauseOverTime& cause = progress.causes.front();
  EXPECT_NEAR(cause.mean_ft, -200.0, 1e-9);
  EXPECT_NEAR(cause.spread_ft, 100.0, 1e-9);
  EXPECT_NEAR(cause.low90_ft, -368.6, 0.1);
  EXPECT_NEAR(cause.high90_ft, -31.4, 0.1);
  EXPECT_TRUE(cause.leans());
  ASSERT_FALSE(progress.practise.empty());
  EXPECT_EQ(progress.practise[0].what, "base turn");
  EXPECT_NE(progress.practise[0].reason.find("200 ft short"), std::string::npos)
      << progress.practise[0].reason;
}

TEST(Progress, ACauseThatGoesBothWaysIsPractisedForItsSpread) {
  const StudentProgress progress =
      progress_of({attempt(1.0, -300.0), attempt(1.0, 300.0), attempt(1.0, -250.0), attempt(1.0, 280.0)});
  EXPECT_FALSE(progress.causes.front().leans());
  ASSERT_EQ(progress.practise.size(), 1U);
  EXPECT_NE(progress.practise[0].reason.find("differs"), std::string::npos);
}

TEST(Progress, WhatTheModelLeavesOpenIsNoHabit) {
  const StudentProgress progress =
      progress_of({attempt(1.0, -90.0), attempt(1.0, -100.0), attempt(1.0, -110.0), attempt(1.0, -100.0)});
  EXPECT_TRUE(progress.causes.front().leans());
  EXPECT_TRUE(progress.practise.empty());
}

TEST(Progress, TheDaysWindIsNothingToPractise) {
  std::vector<PractisedAttempt> all(5, attempt(1.0));
  for (auto& one : all) one.causes = {{"wind and airplane together", 250.0, 200.0, 300.0}};
  const StudentProgress progress = progress_of(all);
  ASSERT_EQ(progress.practise.size(), 1U);
  EXPECT_EQ(progress.practise[0].what, "the plan, not the student");
}

TEST(Progress, TwoOfACauseAreTooFew) {
  EXPECT_TRUE(progress_of({attempt(1.0, 300.0), attempt(0.0, 300.0)}).causes.empty());
}

TEST(Progress, WhatIsNotTheStudentsIsLeftOut) {
  std::vector<PractisedAttempt> all(4, attempt(1.0, 300.0));
  for (auto& one : all) one.rated.flown_by = FlownBy::student_prompted;
  EXPECT_TRUE(progress_of(all).causes.empty());
  for (auto& one : all) {
    one.rated.flown_by = FlownBy::student;
    one.rated.forced = true;
  }
  EXPECT_TRUE(progress_of(all).causes.empty());
}

TEST(Progress, OnlyTheWindowCounts) {
  std::vector<PractisedAttempt> all(30, attempt(1.0, 400.0));
  all.insert(all.end(), 20, attempt(1.0, -100.0));
  EXPECT_NEAR(progress_of(all).causes.front().mean_ft, -100.0, 1e-9);
}

/// Equal halves: by symmetry one half. And none of six against six of six: nearly sure.
TEST(Progress, LearningIsSaidOnlyWhereItIsSeen) {
  std::vector<PractisedAttempt> same, better;
  for (int i = 0; i < 12; ++i) {
    same.push_back(attempt(0.5));
    better.push_back(attempt(i < 6 ? 0.0 : 1.0));
  }
  EXPECT_NEAR(progress_of(same).learning->probability_better, 0.5, 0.01);
  EXPECT_GT(progress_of(better).learning->probability_better, 0.99);
  better.resize(7);
  EXPECT_FALSE(progress_of(better).learning) << "seven are too few";
}

TEST(Progress, GroupsAreSetSideBySideWhereThereAreTwo) {
  std::vector<PractisedAttempt> all(4, attempt(1.0, 0.0, 2.0));
  EXPECT_TRUE(progress_of(all).by_wind.empty()) << "one group is nothing to compare";
  all.insert(all.end(), 3, attempt(0.0, 0.0, 15.0));
  const StudentProgress progress = progress_of(all);
  ASSERT_EQ(progress.by_wind.size(), 2U);
  for (const GroupShare& one : progress.by_wind) EXPECT_LT(one.low90, one.high90);
  EXPECT_TRUE(progress.by_airplane.empty());
}

TEST(Progress, AGateLeftThoughStableIsTalkedAbout) {
  PractisedAttempt around = attempt(0.0);
  around.rated.end = RatedAttempt::End::went_around;
  around.causes.clear();
  const StudentProgress unsound = progress_of({around, around, around});
  ASSERT_EQ(unsound.practise.size(), 1U);
  EXPECT_EQ(unsound.practise[0].what, "the decision at the gate");
  around.rated.sound_go_around = true;
  EXPECT_TRUE(progress_of({around, around, around}).practise.empty())
      << "a sound one is never held against anybody";
}

}  // namespace
}  // namespace glidewright

#include "apps/cli/picture/debrief_scene.hpp"

#include <gtest/gtest.h>

namespace glidewright {
namespace {

Touchdown touchdown_at(double along_ft, double half_width_ft, double time_unix_s) {
  Touchdown touchdown;
  touchdown.along_ft = along_ft;
  touchdown.low95_ft = along_ft - half_width_ft;
  touchdown.high95_ft = along_ft + half_width_ft;
  touchdown.time_unix_s = time_unix_s;
  return touchdown;
}

Grade grade_of(Verdict verdict) {
  Grade grade;
  grade.verdict = verdict;
  return grade;
}

AttemptDebrief landed_long() {
  AttemptDebrief one;
  one.attempt.index = 3;
  one.attempt.outcome = Outcome::landed;
  one.touchdown = touchdown_at(290, 140, 10.5 * 3600.0);
  one.grades = {grade_of(Verdict::not_graded), grade_of(Verdict::cannot_tell), grade_of(Verdict::meets)};
  one.causes.planned_touchdown_ft = 100;
  one.causes.causes = {{"base turn", -320, -380, -260, "Base turn 1.5 s late."},
                       {"flaps", 430, 340, 520, "Flap at 240 ft."}};
  one.causes.unexplained_ft = 80;
  one.causes.unexplained_low95_ft = -120;
  one.causes.unexplained_high95_ft = 280;
  return one;
}

AttemptDebrief went_around() {
  AttemptDebrief one;
  one.attempt.index = 4;
  one.attempt.outcome = Outcome::go_around;
  one.attempt.go_around = KeyPoint{};
  one.attempt.go_around->time_unix_s = 10.0 * 3600.0 + 59.0 * 60.0 + 59.0;
  one.projected_touchdown = touchdown_at(-280, 180, 0.0);
  one.grades = {grade_of(Verdict::not_demonstrated)};
  one.causes.planned_touchdown_ft = 100;
  one.causes.causes = {{"base turn", -380, -480, -280, "Base turn 2 s late."}};
  return one;
}

TEST(DebriefScene, RulerRowTellsPlaceAndVerdict) {
  const RulerRow landed = ruler_row(landed_long());
  EXPECT_EQ(landed.index, 3);
  EXPECT_EQ(landed.time, "10:30");
  EXPECT_EQ(landed.kind, PlaceKind::landed);
  ASSERT_TRUE(landed.place);
  EXPECT_EQ(landed.place->along_ft, 290);
  EXPECT_EQ(landed.place->low95_ft, 150);
  EXPECT_EQ(landed.place->high95_ft, 430);
  EXPECT_EQ(landed.verdict, "cannot tell");  // of the first standard that is graded

  const RulerRow around = ruler_row(went_around());
  EXPECT_EQ(around.time, "10:59");
  EXPECT_EQ(around.kind, PlaceKind::went_around);
  ASSERT_TRUE(around.place);
  EXPECT_EQ(around.place->along_ft, -280);
  EXPECT_EQ(around.verdict, "not demonstrated");
}

TEST(DebriefScene, AnUnfinishedAttemptHasNoPlace) {
  AttemptDebrief one;
  one.attempt.outcome = Outcome::unfinished;
  const RulerRow row = ruler_row(one);
  EXPECT_FALSE(row.place);
  EXPECT_EQ(row.verdict, "unfinished: the log ends");
}

TEST(DebriefScene, PlannedCausesAndUnexplainedMakeTheTouchdown) {
  const LedgerScene scene = ledger_scene(landed_long(), Box{});
  ASSERT_TRUE(scene.touchdown);
  EXPECT_EQ(running_sums_ft(scene), (std::vector<double>{100, -220, 210, 290}));
  EXPECT_EQ(running_sums_ft(scene).back(), scene.touchdown->along_ft);
  EXPECT_FALSE(scene.causes[0].undecided());
  EXPECT_TRUE(scene.unexplained->undecided());
}

TEST(DebriefScene, AGoAroundLeavesNothingUnexplained) {
  const LedgerScene scene = ledger_scene(went_around(), Box{});
  EXPECT_FALSE(scene.unexplained);
  ASSERT_TRUE(scene.touchdown);
  EXPECT_EQ(running_sums_ft(scene).back(), scene.touchdown->along_ft);
}

TEST(DebriefScene, ALedgerWithoutCausesKeepsTheReason) {
  AttemptDebrief one = landed_long();
  one.causes = Causes{};
  one.causes.not_offered_because = "Power was left on.";
  const LedgerScene scene = ledger_scene(one, Box{});
  EXPECT_TRUE(scene.causes.empty());
  EXPECT_FALSE(scene.unexplained);
  EXPECT_EQ(scene.no_causes_because, "Power was left on.");
}

}  // namespace
}  // namespace glidewright

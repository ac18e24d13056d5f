#include "engine/debrief/standard.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <string>

namespace glidewright {
namespace {

using testing::HasSubstr;

Standard power_off_180() {
  Standard standard;
  standard.id = "power-off-180";
  standard.box = Box{0.0, 200.0};  // FAA-S-ACS-7B, CA.IV.M, S8: within 200 ft beyond the point
  standard.power_off = true;
  return standard;
}

Attempt landed() {
  Attempt attempt;
  attempt.kind = AttemptKind::power_off;
  attempt.outcome = Outcome::landed;
  return attempt;
}

/// Seen by somebody: one place, no doubt.
Touchdown seen_at(double along_ft) {
  Touchdown touchdown;
  touchdown.along_ft = touchdown.low95_ft = touchdown.high95_ft = along_ft;
  touchdown.distribution = {{along_ft, 1.0}};
  return touchdown;
}

/// A share of the probability at +100 ft, the rest at 300 ft, beyond the box.
Touchdown inside_with(double share) {
  Touchdown touchdown;
  touchdown.along_ft = share >= 0.5 ? 100.0 : 300.0;
  touchdown.low95_ft = 100.0;
  touchdown.high95_ft = 300.0;
  touchdown.distribution = {{100.0, share}, {300.0, 1.0 - share}};
  return touchdown;
}

// FAA-S-ACS-7B, CA.IV.M, S8: 0 to +200 ft, both ends pass; a foot outside does not.
TEST(Grade, BothEndsOfTheBoxPassAndAFootOutsideFails) {
  const auto verdict = [](double along_ft) {
    return grade(power_off_180(), landed(), seen_at(along_ft)).verdict;
  };
  EXPECT_EQ(verdict(0.0), Verdict::meets);
  EXPECT_EQ(verdict(200.0), Verdict::meets);
  EXPECT_EQ(verdict(-1.0), Verdict::does_not_meet);
  EXPECT_EQ(verdict(201.0), Verdict::does_not_meet);
}

TEST(Grade, NeverGradesALimitKnownByHearsayAndSaysSo) {
  Standard hearsay = power_off_180();
  hearsay.limit_seen = false;
  const Grade one = grade(hearsay, landed(), seen_at(100.0));
  EXPECT_EQ(one.verdict, Verdict::not_graded);
  EXPECT_THAT(one.reason, HasSubstr("was not seen"));
}

TEST(Grade, SaysOnWhichSideItMissed) {
  EXPECT_THAT(grade(power_off_180(), landed(), seen_at(-1.0)).reason, HasSubstr("short of"));
  EXPECT_THAT(grade(power_off_180(), landed(), seen_at(201.0)).reason, HasSubstr("beyond"));
}

// Meets at 0.90 and more, does not at 0.10 and less, else the log cannot tell.
TEST(Grade, VerdictFollowsTheProbability) {
  const auto graded = [](double share) { return grade(power_off_180(), landed(), inside_with(share)); };
  EXPECT_EQ(graded(0.91).verdict, Verdict::meets);
  EXPECT_EQ(graded(0.89).verdict, Verdict::cannot_tell);
  EXPECT_EQ(graded(0.11).verdict, Verdict::cannot_tell);
  EXPECT_EQ(graded(0.09).verdict, Verdict::does_not_meet);
  EXPECT_NEAR(graded(0.37).probability_met, 0.37, 1e-12);  // one weight, only rounding
}

// Moving the touchdown away from the box never makes the grade better.
// A runway known to 400 ft: whether short, in the box or beyond, nobody can tell, however narrow the box.
TEST(Grade, AWideIntervalIsNoFailure) {
  Touchdown anywhere;
  anywhere.along_ft = 130.0;
  anywhere.low95_ft = -680.0;
  anywhere.high95_ft = 940.0;
  for (double along_ft = -700.0; along_ft <= 1000.0; along_ft += 50.0)
    anywhere.distribution.push_back({along_ft, 1.0 / 35.0});
  Standard narrow = power_off_180();
  narrow.box = Box{0.0, 100.0};
  const Grade graded = grade(narrow, landed(), anywhere);
  EXPECT_LT(graded.probability_met, 0.1);
  EXPECT_EQ(graded.verdict, Verdict::cannot_tell);
  EXPECT_THAT(graded.reason, HasSubstr("holds all of"));
}

TEST(Grade, IsMonotone) {
  double before = 1.0;
  for (double away = 0.0; away <= 400.0; away += 10.0) {
    Touchdown touchdown;
    for (double spread = -100.0; spread <= 100.0; spread += 10.0) {
      touchdown.distribution.push_back({100.0 + away + spread, 1.0 / 21.0});
    }
    touchdown.along_ft = 100.0 + away;
    const auto result = grade(power_off_180(), landed(), touchdown);
    EXPECT_LE(result.probability_met, before + 1e-12) << away;
    before = result.probability_met;
  }
  EXPECT_EQ(before, 0.0);
}

TEST(Grade, GoAroundIsNotDemonstratedAndNoFailure) {
  Attempt attempt = landed();
  attempt.outcome = Outcome::go_around;
  const auto result = grade(power_off_180(), attempt, std::nullopt);
  EXPECT_EQ(result.verdict, Verdict::not_demonstrated);
  EXPECT_THAT(result.reason, HasSubstr("examiner"));
}

TEST(Grade, LandingWithoutAPlaceIsNoGoAround) {
  EXPECT_EQ(grade(power_off_180(), landed(), std::nullopt).verdict, Verdict::cannot_tell);
}

TEST(Grade, WhatCannotBeGradedIsNot) {
  Standard unseen = power_off_180();
  unseen.box.reset();  // TP 13462: the manoeuvre is there, its limit was not seen
  unseen.source_state = "read in source; the limit is the first third of the runway";
  EXPECT_EQ(grade(unseen, landed(), seen_at(100.0)).verdict, Verdict::not_graded);
  // Why, in the words of the standard's own file: "not seen" would be untrue of this one.
  EXPECT_THAT(grade(unseen, landed(), seen_at(100.0)).reason, HasSubstr("first third of the runway"));
  Attempt with_power = landed();
  with_power.kind = AttemptKind::power_assisted;
  EXPECT_EQ(grade(power_off_180(), with_power, seen_at(100.0)).verdict, Verdict::not_graded);
  Standard short_field = power_off_180();
  short_field.power_off = false;
  EXPECT_EQ(grade(short_field, with_power, seen_at(100.0)).verdict, Verdict::meets);
  Attempt unfinished = landed();
  unfinished.outcome = Outcome::unfinished;
  EXPECT_EQ(grade(power_off_180(), unfinished, std::nullopt).verdict, Verdict::not_graded);
}

// TP 12475, exercise 18: 50 ft short to 200 ft beyond.
TEST(Grade, BoxThatBeginsShortOfThePoint) {
  Standard standard = power_off_180();
  standard.box = Box{-50.0, 200.0};
  EXPECT_EQ(grade(standard, landed(), seen_at(-50.0)).verdict, Verdict::meets);
  EXPECT_EQ(grade(standard, landed(), seen_at(-51.0)).verdict, Verdict::does_not_meet);
}

/// FAA-S-ACS-7B, CA.IV.F, S7: within 5 kt of the recommended speed.
Standard short_field() {
  Standard standard = power_off_180();
  standard.speed_over_kt = standard.speed_under_kt = 5.0;
  return standard;
}

SpeedGrade at_speed(const Standard& standard, double mean_kcas, double sd_kt) {
  const auto graded = grade(standard, landed(), seen_at(100.0), SpeedOnFinal{mean_kcas, sd_kt, 65.0, true});
  EXPECT_TRUE(graded.speed);
  EXPECT_EQ(graded.verdict, Verdict::meets) << "the place is graded by itself";
  return graded.speed.value_or(SpeedGrade{});
}

TEST(SpeedGrade, FollowsTheLimitsAndHowWellTheSpeedIsKnown) {
  EXPECT_EQ(at_speed(short_field(), 66.0, 1.5).verdict, Verdict::meets);
  EXPECT_EQ(at_speed(short_field(), 75.0, 1.5).verdict, Verdict::does_not_meet);
  EXPECT_EQ(at_speed(short_field(), 55.0, 1.5).verdict, Verdict::does_not_meet);
  EXPECT_EQ(at_speed(short_field(), 70.0, 1.5).verdict, Verdict::cannot_tell);
  EXPECT_EQ(at_speed(short_field(), 66.0, 5.0).verdict, Verdict::cannot_tell)
      << "a wind known to 5 kt tells nothing";
  EXPECT_NEAR(at_speed(short_field(), 70.0, 1.5).probability_met, 0.5, 1e-9) << "on the edge";
  // Within one standard deviation either way: 68.27 %, as in any table of the normal distribution.
  EXPECT_NEAR(at_speed(short_field(), 65.0, 5.0).probability_met, 0.6827, 5e-5);
}

TEST(SpeedGrade, WithOneLimitTheOtherSideIsFree) {
  Standard standard = short_field();
  standard.speed_under_kt.reset();
  EXPECT_EQ(at_speed(standard, 50.0, 1.5).verdict, Verdict::meets);
  EXPECT_THAT(at_speed(standard, 75.0, 1.5).reason, HasSubstr("65 +5 wanted"));
  standard = short_field();
  standard.speed_over_kt.reset();
  EXPECT_EQ(at_speed(standard, 90.0, 1.5).verdict, Verdict::meets);
  EXPECT_THAT(at_speed(standard, 55.0, 1.5).reason, HasSubstr("65 −5 wanted"));
}

TEST(SpeedGrade, StandsAloneWhereNoPlaceIsLimited) {
  Standard speed_alone = short_field();
  speed_alone.box.reset();
  const Grade graded = grade(speed_alone, landed(), seen_at(100.0), SpeedOnFinal{66.0, 1.5, 65.0, true});
  EXPECT_EQ(graded.verdict, Verdict::not_graded);
  ASSERT_TRUE(graded.speed);
  EXPECT_EQ(graded.speed->verdict, Verdict::meets);
}

TEST(SpeedGrade, IsNotGivenWhereThereIsNothingToGrade) {
  const SpeedOnFinal speed{66.0, 1.5, 65.0, true};
  EXPECT_FALSE(grade(power_off_180(), landed(), seen_at(100.0), speed).speed) << "no limit";
  EXPECT_FALSE(grade(short_field(), landed(), seen_at(100.0)).speed) << "no final";
  Attempt around = landed();
  around.outcome = Outcome::go_around;
  EXPECT_FALSE(grade(short_field(), around, std::nullopt, speed).speed);
  Standard hearsay = short_field();
  hearsay.limit_seen = false;
  EXPECT_FALSE(grade(hearsay, landed(), seen_at(100.0), speed).speed);
}

}  // namespace
}  // namespace glidewright

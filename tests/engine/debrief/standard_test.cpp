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

}  // namespace
}  // namespace glidewright

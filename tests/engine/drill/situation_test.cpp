#include "engine/drill/situation.hpp"

#include <gtest/gtest.h>

#include <array>
#include <cmath>

#include "tests/engine/plan/into_wind.hpp"

namespace glidewright {
namespace {

const DrillSetting& setting() {
  static const DrillSetting one = *drill_setting(into_wind(10.0)).setting;
  return one;
}

std::vector<Situation> situations(int count) {
  std::vector<Situation> all;
  for (int number = 1; number <= count; ++number) all.push_back(situation_of(setting(), 3, number));
  return all;
}

TEST(Drill, TheSameNumberIsTheSameSituation) {
  const Situation one = situation_of(setting(), 3, 4), again = situation_of(setting(), 3, 4);
  EXPECT_EQ(one.touchdown_ft, again.touchdown_ft);
  EXPECT_EQ(one.now.time_s, again.now.time_s);
  EXPECT_NE(one.now.time_s, situation_of(setting(), 3, 5).now.time_s);
  EXPECT_NE(one.now.time_s, situation_of(setting(), 4, 4).now.time_s);
}

TEST(Drill, LowOnAndHighComeAboutEquallyOften) {
  std::array<int, 3> often{};
  constexpr int k_many = 60;
  for (const Situation& one : situations(k_many)) ++often[static_cast<std::size_t>(one.energy)];
  // A third of 60 each: three standard deviations of a binomial are 11.
  for (const int count : often) EXPECT_NEAR(count, 20, 11);
}

TEST(Drill, NoneIsOnTheEdgeAndAllAreFrozenInTime) {
  for (const Situation& one : situations(40)) {
    SCOPED_TRACE(one.number);
    const Box box = setting().plan.box;
    if (one.energy == Energy::on) {
      EXPECT_GT(one.touchdown_ft, box.low_ft + 35.0);
      EXPECT_LT(one.touchdown_ft, box.high_ft - 35.0);
      EXPECT_EQ(one.beyond_box_ft, 0.0);
    } else {
      EXPECT_GT(std::abs(one.beyond_box_ft), 70.0);
      EXPECT_EQ(one.energy == Energy::high, one.beyond_box_ft > 0.0);
    }
    EXPECT_GE(one.to_come.back().time_s - one.now.time_s, 23.5);
    EXPECT_NEAR(one.in_20_s.time_s - one.now.time_s, 20.0, 0.25);
    EXPECT_GT(one.now.height_ft, 100.0);
    EXPECT_EQ(one.flown.back().time_s, one.now.time_s);
    EXPECT_GT(one.to_come.front().time_s, one.now.time_s);
  }
}

/// With as far to go, who is high lands beyond: height and landing agree in nearly all; speed and flap are
/// the rest.
TEST(Drill, HighIsHigherThanThePlanAndLowIsLower) {
  int agree = 0, off_the_box = 0;
  for (const Situation& one : situations(60)) {
    if (one.energy == Energy::on || one.leg == DrillLeg::base_turn) continue;
    ++off_the_box;
    agree += (one.now.height_ft > one.planned_height_ft) == (one.energy == Energy::high);
  }
  ASSERT_GT(off_the_box, 15);
  EXPECT_GT(agree, 0.85 * off_the_box);
}

TEST(Drill, WhatIsSaidToMendItDoes) {
  const Box box = setting().plan.box;
  for (const Situation& one : situations(60)) {
    SCOPED_TRACE(one.number);
    switch (one.remedy) {
      case Remedy::nothing:
        EXPECT_EQ(one.energy, Energy::on);
        break;
      case Remedy::flaps_held:
        EXPECT_GE(one.touchdown_at_most_ft, box.low_ft);
        EXPECT_GT(one.touchdown_at_most_ft, one.touchdown_ft);
        break;
      case Remedy::shorter_way:
        EXPECT_GE(one.now.height_ft, one.room.lowest_ft);
        break;
      case Remedy::longer_way:
        EXPECT_LE(one.now.height_ft, one.room.by_path_ft);
        break;
      case Remedy::flaps:
      case Remedy::slip:
        EXPECT_LT(one.touchdown_at_most_ft, one.touchdown_ft);
        break;
      case Remedy::none:
        EXPECT_TRUE(one.energy == Energy::low ? one.touchdown_at_most_ft < box.low_ft
                                              : one.touchdown_at_most_ft > box.high_ft);
    }
  }
}

/// The same drill from the other side of the runway.
TEST(Drill, RightHandTrafficIsTheMirrorImage) {
  PlanRequest right = into_wind(10.0);
  right.conditions.traffic = Traffic::right;
  const DrillSetting mirrored = *drill_setting(right).setting;
  for (int number = 1; number <= 5; ++number) {
    const Situation a = situation_of(setting(), 3, number), b = situation_of(mirrored, 3, number);
    EXPECT_NEAR(a.touchdown_ft, b.touchdown_ft, 1e-6);
    EXPECT_NEAR(a.now.cross_ft, -b.now.cross_ft, 1e-6);
    EXPECT_NEAR(a.now.along_ft, b.now.along_ft, 1e-6);
    EXPECT_NEAR(a.room.lowest_ft, b.room.lowest_ft, 1e-6);
  }
}

TEST(Drill, WithoutACueThereIsNone) {
  PlanRequest far = into_wind(10.0);
  far.technique.spacing_ft = 9000.0;
  const auto answer = drill_setting(far);
  EXPECT_FALSE(answer.setting);
  EXPECT_FALSE(answer.refusal.empty());
}

}  // namespace
}  // namespace glidewright

#include "engine/plan/plan.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "engine/batch/draws.hpp"
#include "engine/plan/search.hpp"
#include "tests/engine/plan/into_wind.hpp"

namespace glidewright {
namespace {

TEST(Plan, ThePlannedApproachTouchesDownAtThePlannedPlace) {
  for (const double wind_kt : {0.0, 8.0, 16.0}) {
    const auto request = into_wind(wind_kt, 20.0);
    const auto found = search_cue(request);
    ASSERT_TRUE(found.found) << wind_kt;
    const auto nominal = fly_nominal(request, found.cue_s, Trace::none);
    // The cue is found to 0.05 s (some 10 ft), and with the coarser step (2 ft).
    EXPECT_NEAR(nominal.touchdown->along_ft, request.technique.planned_touchdown_ft, 20.0) << wind_kt;
  }
}

/// What the plan without obstacles flies at the place on final, and one that stands there with its top so far
/// below.
PlanRequest with_a_wood(double below_path_ft) {
  PlanRequest request = into_wind(10.0);
  request.search_flights = 0;
  const auto free = make_plan(request);
  for (const Moment& moment : free.plan->nominal.trace) {
    if (std::abs(moment.along_ft + 1500.0) < 15.0 && std::abs(moment.cross_ft) < 100.0) {
      request.obstacles = {{moment.along_ft, 0.0, moment.height_ft - below_path_ft, "wood"}};
    }
  }
  return request;
}

TEST(Plan, AnObstacleFarBelowThePathIsNotSpokenOf) {
  const auto request = with_a_wood(120.0);
  ASSERT_EQ(request.obstacles.size(), 1U);
  const auto answer = make_plan(request);
  ASSERT_TRUE(answer.plan);
  EXPECT_TRUE(answer.cautions.empty());
}

TEST(Plan, AnObstacleTooNearBelowThePathIsACaution) {
  const auto answer = make_plan(with_a_wood(55.0));
  ASSERT_TRUE(answer.plan);
  ASSERT_EQ(answer.cautions.size(), 1U) << "the path sinks 20 ft in the 150 ft beside it";
  EXPECT_NE(answer.cautions[0].find("The planned path clears the wood 1"), std::string::npos)
      << answer.cautions[0];
}

TEST(Plan, NoPathIsPlannedThroughAnObstacle) {
  const auto answer = make_plan(with_a_wood(-30.0));
  EXPECT_FALSE(answer.plan);
  ASSERT_FALSE(answer.refusals.empty());
  EXPECT_NE(answer.refusals[0].find("below the top of the wood"), std::string::npos) << answer.refusals[0];
}

TEST(Plan, MoreHeadwindMeansAnEarlierBaseTurn) {
  double before_s = 1e9;
  for (const double wind_kt : {0.0, 5.0, 10.0, 15.0}) {
    const auto found = search_cue(into_wind(wind_kt));
    ASSERT_TRUE(found.found);
    EXPECT_LT(found.cue_s, before_s);
    before_s = found.cue_s;
  }
}

TEST(Plan, TheAngleBehindTheWingIsTheAngleSquareToTheRunwayCorrectedForTheCrab) {
  // Not searched: the search's luck is not mirrored with the wind.
  auto unsearched = into_wind(10.0, 30.0);
  unsearched.search_flights = 0;
  const auto answer = make_plan(unsearched);
  ASSERT_TRUE(answer.plan);
  const Cue& cue = answer.plan->cue;
  EXPECT_NEAR(cue.angle_past_abeam_deg,
              std::atan2(cue.distance_past_abeam_ft, std::abs(answer.plan->nominal.base_turn.cross_ft)) /
                  k_radians_per_degree,
              1e-9);
  // Wind from the right of a runway with left-hand traffic blows from the left of downwind's course reversed:
  // the airplane on downwind has it on its left side, crabs left, towards the runway, and its wing swings
  // back.
  EXPECT_LT(cue.crab_deg, 0.0);
  EXPECT_NEAR(cue.angle_behind_wing_deg, cue.angle_past_abeam_deg + cue.crab_deg, 1e-9);

  const auto mirrored = make_plan([] {
    auto request = into_wind(10.0, -30.0);
    request.conditions.traffic = Traffic::right;
    request.search_flights = 0;
    return request;
  }());
  ASSERT_TRUE(mirrored.plan);
  EXPECT_NEAR(mirrored.plan->cue.angle_behind_wing_deg, cue.angle_behind_wing_deg, 1e-6);
}

TEST(Plan, AnotherSeedsFlightsAgreeWithinTheInterval) {
  const auto request = into_wind(10.0);
  const auto answer = make_plan(request);
  ASSERT_TRUE(answer.plan);
  auto other = request;
  other.seed = 77;
  const auto flights = fly_over_spread(other, answer.plan->cue.seconds_past_abeam, 0, 1000);
  const double share = count_in_box(flights, other.box) / 1000.0;
  // Two independent thousands: the difference has sqrt(2) times the spread of one; 3 standard deviations.
  const double p = answer.plan->success.in_box.probability;
  EXPECT_NEAR(share, p, 3.0 * std::sqrt(2.0 * p * (1.0 - p) / 1000.0));
  EXPECT_GT(p, 0.0);
}

TEST(Plan, TheSameSeedGivesTheSamePlan) {
  const auto request = into_wind(7.0);
  const auto a = make_plan(request), b = make_plan(request);
  ASSERT_TRUE(a.plan && b.plan);
  EXPECT_EQ(a.plan->success.in_box.probability, b.plan->success.in_box.probability);
  EXPECT_EQ(a.plan->cue.seconds_past_abeam, b.plan->cue.seconds_past_abeam);
}

TEST(Plan, RefusesWindBeyondTheHandbookAndTailwind) {
  for (const auto& request : {into_wind(25.0, 90.0), into_wind(8.0, 180.0)}) {
    const auto answer = make_plan(request);
    EXPECT_FALSE(answer.plan);
    ASSERT_FALSE(answer.refusals.empty());
    EXPECT_NE(answer.refusals.front().find("no cue"), std::string::npos);
  }
  const auto light = make_plan(into_wind(3.0, 180.0));
  EXPECT_TRUE(light.plan);
  ASSERT_FALSE(light.cautions.empty());
  EXPECT_NE(light.cautions.front().find("Tailwind"), std::string::npos);
}

TEST(Plan, RefusesAPointThatCannotBeReachedAndARunwayWithoutRoom) {
  auto wide = into_wind(15.0);
  wide.technique.spacing_ft = 9000.0;
  EXPECT_FALSE(make_plan(wide).plan);
  EXPECT_NE(make_plan(wide).refusals.front().find("out of reach"), std::string::npos);

  auto short_runway = into_wind(10.0);
  short_runway.runway_end_along_ft = 500.0;
  EXPECT_FALSE(make_plan(short_runway).plan);
}

TEST(Draws, HaveTheMomentsOfAStandardNormal) {
  constexpr int n = 40000;
  double sum = 0.0, squares = 0.0, product = 0.0;
  for (int i = 0; i < n; ++i) {
    const double x = standard_normal(5, static_cast<std::uint64_t>(i), 0);
    const double y = standard_normal(5, static_cast<std::uint64_t>(i), 1);
    sum += x;
    squares += x * x;
    product += x * y;
  }
  // Standard errors: 1/sqrt(n) = 0.005 of the mean and of the product, sqrt(2/n) = 0.007 of the variance; 4
  // of each.
  EXPECT_NEAR(sum / n, 0.0, 0.02);
  EXPECT_NEAR(squares / n, 1.0, 0.028);
  EXPECT_NEAR(product / n, 0.0, 0.02);
}

}  // namespace
}  // namespace glidewright

#include "engine/plan/robust.hpp"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <cmath>

#include "tests/engine/plan/into_wind.hpp"

namespace glidewright {
namespace {

PlanRequest searched(double wind_kt, double off_runway_deg = 0.0) {
  PlanRequest request = into_wind(wind_kt, off_runway_deg);
  request.other_flaps = other_taught_flaps(request.technique);
  request.search_flights = 60000;
  return request;
}

/// All that would be offered, best first.
std::vector<RobustCue> offered(const PlanRequest& request) {
  std::vector<RobustCue> cues;
  offer_robust_cues(request, search_cue(request).cue_s, one_after_another, [&](const RobustCue& cue) {
    cues.push_back(cue);
    return false;
  });
  return cues;
}

/// Other flights than the search's.
double share_in_box(PlanRequest request, const RobustCue& cue, int flights) {
  request.technique = cue.technique;
  request.seed = 4242;
  return count_in_box(fly_over_spread(request, cue.cue_s, 0, flights), request.box) /
         static_cast<double>(flights);
}

TEST(RobustCue, LandsMoreFlightsInTheBoxThanTheCueAsPlanned) {
  constexpr int flights = 20000;
  double gained = 0.0;
  for (const double wind_kt : {0.0, 5.0, 10.0, 14.0}) {
    const auto request = searched(wind_kt, 20.0);
    const double planned_s = search_cue(request).cue_s;
    const auto cues = offered(request);
    ASSERT_FALSE(cues.empty());
    const double robust = share_in_box(request, cues.front(), flights);
    const double planned = share_in_box(request, {planned_s, request.technique, 0}, flights);
    gained += robust - planned;
    // Never less than luck explains: three standard errors of a difference of two shares.
    EXPECT_GT(robust, planned - 3.0 * std::sqrt(0.5 / flights)) << wind_kt;
  }
  EXPECT_GT(gained, 0.03);
}

TEST(RobustCue, ItsOwnApproachEndsStableInTheBoxAndFewFlightsEndShort) {
  for (const double wind_kt : {0.0, 8.0, 14.0}) {
    const auto answer = make_plan(searched(wind_kt));
    ASSERT_TRUE(answer.plan) << wind_kt;
    const Plan& plan = *answer.plan;
    EXPECT_GE(plan.planned_touchdown_ft, 0.0);
    EXPECT_LE(plan.planned_touchdown_ft, 200.0);
    EXPECT_TRUE(plan.nominal.stable_at_gate);
    EXPECT_NEAR(plan.nominal.base_turn.time_s, plan.cue.seconds_past_abeam, 1e-6);
    EXPECT_LE(plan.success.short_of_runway, 0.005);
  }
}

TEST(RobustCue, EveryFurtherOneTurnsEarlier) {
  const auto request = searched(14.0);
  const auto cues = offered(request);
  for (std::size_t i = 1; i < cues.size(); ++i) EXPECT_LT(cues[i].cue_s, cues[i - 1].cue_s);
}

TEST(RobustCue, FliesAboutAsManyAsItMay) {
  const auto request = searched(8.0);
  const auto cues = offered(request);
  EXPECT_GT(cues.front().flights, request.search_flights / 2);
  EXPECT_LE(cues.front().flights, request.search_flights * 11 / 10);
}

TEST(RobustCue, ChoosesAmongTheSchedulesGiven) {
  auto request = searched(10.0);
  const auto cue = offered(request).front();
  const auto same = [&](const std::vector<FlapStep>& flaps) {
    if (flaps.size() != cue.technique.flaps.size()) return false;
    for (std::size_t i = 0; i < flaps.size(); ++i) {
      if (flaps[i].setting_deg != cue.technique.flaps[i].setting_deg ||
          flaps[i].when != cue.technique.flaps[i].when)
        return false;
    }
    return true;
  };
  bool known = same(request.technique.flaps);
  for (const auto& other : request.other_flaps) known = known || same(other);
  EXPECT_TRUE(known);
  // With none to choose from the technique's own stays.
  request.other_flaps.clear();
  const auto own = offered(request).front();
  EXPECT_EQ(own.technique.flaps.size(), request.technique.flaps.size());
  EXPECT_EQ(own.technique.flaps.front().when, request.technique.flaps.front().when);
}

// Without flights to search with, the nearest cue that lands as planned.
TEST(RobustCue, QuickStaysNearTheCueAsPlanned) {
  auto request = searched(8.0);
  request.search_flights = 0;
  const double planned_s = search_cue(request).cue_s;
  const auto cue = offered(request).front();
  EXPECT_EQ(cue.flights, 0);
  EXPECT_LE(std::abs(cue.cue_s - planned_s), 5.0);
}

// More headwind never moves the cue as planned later: within 0.05 s, to which it is refined.
RC_GTEST_PROP(CueProperty, MoreHeadwindNeverTurnsLater, ()) {
  const double wind_kt = 0.1 * *rc::gen::inRange(0, 140);
  const double more_kt = 0.1 * *rc::gen::inRange(3, 60);
  const auto calmer = search_cue(into_wind(wind_kt)), windier = search_cue(into_wind(wind_kt + more_kt));
  RC_PRE(calmer.found && windier.found);
  RC_ASSERT(windier.cue_s <= calmer.cue_s + 0.05);
}

// Two independent thousands at any cue agree within five standard errors of their difference: one pair in two
// million would not.
RC_GTEST_PROP(PlanProperty, AnotherSeedGivesTheSameShareWithinItsError, ()) {
  const double wind_kt = 0.1 * *rc::gen::inRange(0, 150);
  auto request = into_wind(wind_kt, *rc::gen::inRange(-40, 40));
  const double cue_s = 0.1 * *rc::gen::inRange(60, 220);
  constexpr int flights = 1000;
  const auto share = [&](std::uint64_t seed) {
    request.seed = seed;
    return count_in_box(fly_over_spread(request, cue_s, 0, flights), request.box) /
           static_cast<double>(flights);
  };
  const double a = share(*rc::gen::inRange<std::uint64_t>(1, 1000000));
  const double b = share(*rc::gen::inRange<std::uint64_t>(1000000, 2000000));
  const double p = std::max(0.5 * (a + b), 2.0 / flights);
  RC_ASSERT(std::abs(a - b) < 5.0 * std::sqrt(2.0 * p * (1.0 - p) / flights));
}

}  // namespace
}  // namespace glidewright

#include "engine/plan/rules.hpp"

#include <gtest/gtest.h>

#include <algorithm>

#include "tests/engine/plan/into_wind.hpp"

namespace glidewright {
namespace {

Plan plan_of(const PlanRequest& request) {
  auto answer = make_plan(request);
  EXPECT_TRUE(answer.plan);
  return answer.plan.value_or(Plan{});
}

TEST(Rules, FollowingThemBeatsNotFollowingThem) {
  for (const double wind_kt : {0.0, 6.0, 12.0}) {
    auto request = into_wind(wind_kt);
    request.flights = 6000;
    const Plan plan = plan_of(request);
    ASSERT_FALSE(plan.rules.empty());
    const RuleWorth& all = plan.rules.back();
    EXPECT_EQ(all.when, "always");
    EXPECT_GT(all.gain_low95, 0.05) << wind_kt;
    EXPECT_EQ(all.flights, 3000);
  }
}

TEST(Rules, AreCountedOnTheFlightsThatTheyConcern) {
  auto request = into_wind(8.0);
  request.flights = 6000;
  const Plan plan = plan_of(request);
  for (const RuleWorth& rule : plan.rules) {
    EXPECT_NEAR(rule.gain, rule.in_box_followed - rule.in_box_not_followed, 1e-12);
    EXPECT_LE(rule.gain_low95, rule.gain);
    EXPECT_GE(rule.gain_high95, rule.gain);
    EXPECT_LE(rule.flights, 3000);
    EXPECT_FALSE(rule.rule.empty());
  }
  // Above and below are the sixths on either side of the good flights, and what missed with them.
  const auto above = std::find_if(plan.rules.begin(), plan.rules.end(), [](const RuleWorth& rule) {
    return rule.at == "base turn" && rule.when.starts_with("above");
  });
  ASSERT_NE(above, plan.rules.end());
  EXPECT_GT(above->flights, 300);
  EXPECT_LT(above->flights, 1500);
}

TEST(Rules, ATechniqueWithoutThemHasNothingToGain) {
  auto request = into_wind(8.0);
  request.flights = 2000;
  request.search_flights = 0;
  request.technique = without_rules(request.technique);
  const Plan plan = plan_of(request);
  ASSERT_EQ(plan.rules.size(), 1u);
  EXPECT_EQ(plan.rules.front().gain, 0.0);
  EXPECT_EQ(plan.rules.front().gain_low95, 0.0);
}

// From 1,400 ft the final is long enough to pass half a mile on it.
TEST(Rules, OneThatIsNotUsedIsNotListed) {
  auto request = into_wind(5.0);
  request.flights = 2000;
  request.technique.pattern_height_ft = 1400.0;
  const auto slips_listed = [&] {
    const auto rules = plan_of(request).rules;
    return std::count_if(rules.begin(), rules.end(),
                         [](const RuleWorth& rule) { return rule.rule.find("slip") != std::string::npos; });
  };
  EXPECT_EQ(slips_listed(), 1);
  request.technique.slip_when_high = false;
  EXPECT_EQ(slips_listed(), 0);
}

}  // namespace
}  // namespace glidewright

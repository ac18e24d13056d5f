#include "engine/plan/other_winds.hpp"

#include <gtest/gtest.h>

#include "engine/plan/taught.hpp"
#include "tests/engine/airplane/trainer_handbook.hpp"

namespace glidewright {
namespace {

/// A level field, landing north.
PlanRequest in_headwind(double headwind_kt) {
  PlanRequest request;
  request.airplane = fit_airplane(trainer_handbook());
  request.conditions.weight_lb = 2300.0;
  request.conditions.wind.at_10m = {Degrees{0.0}, Knots{headwind_kt}};
  request.technique = taught_technique(request.airplane, 2300.0, 0.0);
  return request;
}

TEST(OtherWinds, MoreHeadwindNeverTurnsLaterAndTodayIsThePlan) {
  const PlanRequest request = in_headwind(10.0);
  const auto plan = make_plan(request).plan;
  ASSERT_TRUE(plan);
  const auto cues = cues_at_other_winds(request, *plan);
  ASSERT_EQ(cues.size(), 5u);
  EXPECT_NEAR(cues[2].headwind_kt, 10.0, 1e-9);
  ASSERT_TRUE(cues[2].cue_s);
  EXPECT_NEAR(*cues[2].cue_s, plan->cue.seconds_past_abeam, 1e-9);
  for (std::size_t i = 1; i < cues.size(); ++i) {
    ASSERT_TRUE(cues[i - 1].cue_s && cues[i].cue_s);
    EXPECT_LT(*cues[i].cue_s, *cues[i - 1].cue_s);
  }
}

TEST(OtherWinds, TailwindsAreLeftOut) {
  const PlanRequest request = in_headwind(1.0);
  const auto plan = make_plan(request).plan;
  ASSERT_TRUE(plan);
  EXPECT_EQ(cues_at_other_winds(request, *plan).size(), 3u);
}

}  // namespace
}  // namespace glidewright

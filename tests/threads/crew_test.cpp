#include "threads/crew.hpp"

#include <gtest/gtest.h>

#include <atomic>

#include "engine/plan/plan.hpp"
#include "engine/plan/taught.hpp"
#include "tests/engine/airplane/trainer_handbook.hpp"

namespace glidewright {
namespace {

TEST(Crew, DoesEveryShareOnce) {
  for (const int size : {1, 2, 5}) {
    Crew crew(size);
    EXPECT_EQ(crew.size(), size);
    for (int round = 0; round < 50; ++round) {
      std::vector<std::atomic<int>> done(37);
      crew.work(37, [&](int share) { ++done[static_cast<std::size_t>(share)]; });
      for (const auto& times : done) EXPECT_EQ(times.load(), 1);
    }
    crew.work(0, [](int) { FAIL() << "no work was there"; });
  }
}

TEST(Crew, FliesTheSameBitsWithAnyNumberOfThreads) {
  const Airplane airplane = fit_airplane(trainer_handbook());
  BatchRequest request;
  request.airplane = &airplane;
  request.conditions.wind.at_10m = {Degrees{20.0}, Knots{8.0}};
  request.technique = taught_technique(airplane, 2300.0, 0.0);
  request.cues_s = {12.0, 16.0};
  request.count = 1200;
  const auto alone = fly_batch(request);
  for (const int size : {1, 2, 3}) {
    Crew crew(size);
    const auto together = fly_batch(request, crew);
    ASSERT_EQ(together.size(), alone.size());
    for (std::size_t i = 0; i < alone.size(); ++i) {
      EXPECT_EQ(together[i].touchdown_ft, alone[i].touchdown_ft);
      EXPECT_EQ(together[i].stable, alone[i].stable);
      EXPECT_EQ(together[i].gate_along_ft, alone[i].gate_along_ft);
    }
  }
}

TEST(Crew, MakesTheSamePlanWithAnyNumberOfThreads) {
  PlanRequest request;
  request.airplane = fit_airplane(trainer_handbook());
  request.conditions.weight_lb = 2200.0;
  request.conditions.wind.at_10m = {Degrees{20.0}, Knots{9.0}};
  request.technique = taught_technique(request.airplane, 2200.0, 0.0);
  request.other_flaps = other_taught_flaps(request.technique);
  const auto alone = make_plan(request);
  ASSERT_TRUE(alone.plan);
  Crew crew(2);
  const auto together =
      make_plan(request, [&](int count, const std::function<void(int)>& piece) { crew.work(count, piece); });
  ASSERT_TRUE(together.plan);
  EXPECT_EQ(together.plan->cue.seconds_past_abeam, alone.plan->cue.seconds_past_abeam);
  EXPECT_EQ(together.plan->success.in_box.probability, alone.plan->success.in_box.probability);
  EXPECT_EQ(together.plan->success.median_touchdown_ft, alone.plan->success.median_touchdown_ft);
  EXPECT_EQ(together.plan->rules.back().gain, alone.plan->rules.back().gain);
}

TEST(Crew, GivenDeviationsKeepTheirOrder) {
  const Airplane airplane = fit_airplane(trainer_handbook());
  BatchRequest request;
  request.airplane = &airplane;
  request.technique = taught_technique(airplane, 2300.0, 0.0);
  request.cues_s = {14.0};
  for (int i = 0; i < 600; ++i) request.deviations.push_back({.height_ft = 0.1 * i});
  Crew crew(2);
  const auto together = fly_batch(request, crew), alone = fly_batch(request);
  ASSERT_EQ(together.size(), 600u);
  for (std::size_t i = 0; i < 600; ++i) EXPECT_EQ(together[i].touchdown_ft, alone[i].touchdown_ft);
}

}  // namespace
}  // namespace glidewright

#include "engine/batch/batch.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "engine/batch/draws.hpp"
#include "engine/plan/taught.hpp"
#include "tests/engine/airplane/trainer_handbook.hpp"

namespace glidewright {
namespace {

const Airplane& trainer() {
  static const Airplane airplane = fit_airplane(trainer_handbook());
  return airplane;
}

/// Taught technique, wind from ahead and to one side, with its luck.
BatchRequest taught(std::int64_t count) {
  BatchRequest request;
  request.airplane = &trainer();
  request.conditions.runway_true_deg = 240.0;
  request.conditions.wind.at_10m = {Degrees{270.0}, Knots{9.0}};
  request.conditions.weight_lb = 2250.0;
  request.conditions.density_ratio = 0.95;
  request.technique = taught_technique(trainer(), 2250.0, 0.0);
  request.cues_s = {15.0};
  request.count = count;
  return request;
}

void expect_same(const FlownOnce& a, const FlownOnce& b) {
  EXPECT_EQ(a.touchdown_ft, b.touchdown_ft);
  EXPECT_EQ(a.stable, b.stable);
  EXPECT_EQ(a.aligned, b.aligned);
  EXPECT_EQ(a.base_turn_height_ft, b.base_turn_height_ft);
  EXPECT_EQ(a.mid_base_height_ft, b.mid_base_height_ft);
  EXPECT_EQ(a.final_turn_height_ft, b.final_turn_height_ft);
  EXPECT_EQ(a.half_mile_height_ft, b.half_mile_height_ft);
  EXPECT_EQ(a.gate_along_ft, b.gate_along_ft);
}

void expect_same(const std::vector<FlownOnce>& a, const std::vector<FlownOnce>& b) {
  ASSERT_EQ(a.size(), b.size());
  for (std::size_t i = 0; i < a.size(); ++i) expect_same(a[i], b[i]);
}

double median_touchdown_difference_ft(const BatchRequest& request) {
  const auto batch = fly_batch(request);
  const auto reference = fly_batch_by_reference(request, {0.02, Trace::none, Watch::touchdown_only});
  std::vector<double> differences_ft;
  for (std::size_t i = 0; i < batch.size(); ++i) {
    differences_ft.push_back(std::abs(batch[i].touchdown_ft - reference[i].touchdown_ft));
  }
  std::nth_element(differences_ft.begin(), differences_ft.begin() + differences_ft.size() / 2,
                   differences_ft.end());
  return differences_ft[differences_ft.size() / 2];
}

// 3 ft: what the batch promises in the median (its header). Each request changes another part of the model.
TEST(Batch, AgreesWithTheReferenceInTheMedian) {
  BatchRequest request = taught(60);
  EXPECT_LT(median_touchdown_difference_ft(request), 3.0) << "taught";
  request.technique = without_rules(request.technique);
  EXPECT_LT(median_touchdown_difference_ft(request), 3.0) << "no rules";
  request.conditions.wind.aloft = Wind{Degrees{300.0}, Knots{20.0}};
  EXPECT_LT(median_touchdown_difference_ft(request), 3.0) << "wind aloft";
  request.conditions.wind.at_10m.speed = Knots{0.0};
  EXPECT_LT(median_touchdown_difference_ft(request), 3.0) << "calm below wind aloft";
  request.conditions.traffic = Traffic::right;
  EXPECT_LT(median_touchdown_difference_ft(request), 3.0) << "right-hand traffic";
  request.technique.slip = SlipStep{400.0, 100.0};
  request.technique.flaps = {{10.0, FlapStep::When::at_height, 800.0, false},
                             {20.0, FlapStep::When::wings_level_final, 0.0, false}};
  EXPECT_LT(median_touchdown_difference_ft(request), 3.0) << "slip and flap at heights";
  request.technique.idle_s_after_abeam = -5.0;
  EXPECT_LT(median_touchdown_difference_ft(request), 3.0) << "idle before abeam";
}

// One flight in calm air without a deviation, no rule: every number of it. 0.5 ft of height and 3 ft along:
// what a step of the batch may be off by; the gate's judgement is the same.
TEST(Batch, EveryNumberOfOneFlightAgreesWithTheReference) {
  BatchRequest request = taught(0);
  request.technique = without_rules(request.technique);
  request.deviations = {
      Deviation{}, {.idle_s = 2.0, .glide_relative = 0.05}, {.cue_s = -3.0, .bank_deg = 8.0}};
  const auto batch = fly_batch(request);
  const auto reference = fly_batch_by_reference(request, {0.02, Trace::none, Watch::touchdown_only});
  ASSERT_EQ(batch.size(), 3u);
  for (std::size_t i = 0; i < batch.size(); ++i) {
    EXPECT_NEAR(batch[i].touchdown_ft, reference[i].touchdown_ft, 3.0);
    EXPECT_NEAR(batch[i].gate_along_ft, reference[i].gate_along_ft, 3.0);
    EXPECT_NEAR(batch[i].base_turn_height_ft, reference[i].base_turn_height_ft, 0.5);
    EXPECT_NEAR(batch[i].mid_base_height_ft, reference[i].mid_base_height_ft, 0.5);
    EXPECT_NEAR(batch[i].final_turn_height_ft, reference[i].final_turn_height_ft, 0.5);
    EXPECT_NEAR(batch[i].half_mile_height_ft, reference[i].half_mile_height_ft, 0.5);
    EXPECT_EQ(batch[i].stable, reference[i].stable);
    EXPECT_EQ(batch[i].aligned, reference[i].aligned);
  }
}

TEST(Batch, DrawsTheLuckThatTheReferenceDraws) {
  BatchRequest request = taught(20);
  request.scatter.turbulence = 0.0;  // given deviations are flown in smooth air
  const auto drawn = fly_batch(request);
  for (std::uint64_t i = 0; i < 20; ++i) {
    request.deviations.push_back(draw_deviation(request.scatter, 0.0, request.seed, i));
  }
  const auto given = fly_batch(request);
  // Drawn in float and in double: 1e-6 of a deviation, which moves a touchdown by some thousand feet at most.
  for (std::size_t i = 0; i < 20; ++i) EXPECT_NEAR(drawn[i].touchdown_ft, given[i].touchdown_ft, 0.1);
}

TEST(Batch, EveryInstructionSetGivesTheSameBits) {
  const BatchRequest request = taught(100);
  const auto baseline = fly_batch(request, InstructionSet::baseline);
  for (const InstructionSet set : instruction_sets_here()) expect_same(fly_batch(request, set), baseline);
}

// A flight is the same alone, among any number of others, and in a lane that others used before.
TEST(Batch, AFlightDoesNotDependOnItsCompany) {
  const auto all = fly_batch(taught(150));
  for (std::int64_t count = 1; count <= 40; ++count) {
    auto request = taught(count);
    request.first = count;
    const auto some = fly_batch(request);
    for (std::int64_t i = 0; i < count; ++i) {
      expect_same(some[static_cast<std::size_t>(i)], all[static_cast<std::size_t>(count + i)]);
    }
  }
}

TEST(Batch, CandidateCuesShareTheirLuck) {
  auto request = taught(30);
  request.cues_s = {12.0, 14.0, 16.0};
  const auto together = fly_batch(request);
  for (std::size_t cue = 0; cue < 3; ++cue) {
    auto alone = request;
    alone.cues_s = {request.cues_s[cue]};
    const auto flown = fly_batch(alone);
    for (std::size_t i = 0; i < 30; ++i) expect_same(flown[i], together[30 * cue + i]);
  }
}

TEST(Batch, NothingAskedForNothingFlown) {
  EXPECT_TRUE(fly_batch(taught(0)).empty());
  auto no_cue_of_its_own = taught(3);
  no_cue_of_its_own.cues_s.clear();
  no_cue_of_its_own.technique.base_turn_s_after_abeam = 15.0;
  expect_same(fly_batch(no_cue_of_its_own), fly_batch(taught(3)));
}

// A glide that cannot come down (drag far below anything real) ends with the clock, not never.
TEST(Batch, AFlightThatNeverComesDownEnds) {
  auto request = taught(0);
  request.technique.pattern_height_ft = 9000.0;
  request.deviations = {{.glide_relative = -0.9}};
  const auto flown = fly_batch(request);
  EXPECT_EQ(flown[0].touchdown_ft, k_never_down_ft);
  EXPECT_FALSE(flown[0].aligned);
}

}  // namespace
}  // namespace glidewright

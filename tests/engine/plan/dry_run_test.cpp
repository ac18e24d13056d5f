#include "engine/plan/dry_run.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "engine/batch/draws.hpp"
#include "engine/plan/search.hpp"
#include "tests/engine/plan/into_wind.hpp"

namespace glidewright {
namespace {

constexpr double k_cue_s = 14.0;
const PlanRequest k_request = into_wind(9.0, 25.0);

/// Flown once for all tests: what is weighed differs, not what is flown.
const std::vector<FlownOnce>& flights() {
  static const auto flown = fly_over_spread(k_request, k_cue_s, 0, 8000);
  return flown;
}

DryRun landed(double along_ft, PowerUsed power = PowerUsed::none) {
  DryRun dry_run;
  dry_run.landed_ft = along_ft;
  dry_run.power = power;
  return dry_run;
}

DryRunCorrection correct(const DryRun& dry_run) {
  return correct_by_dry_run(k_request, flights(), dry_run);
}

double expected_ft() {
  static const double expected = correct(landed(0.0)).expected_touchdown_ft.value;
  return expected;
}

TEST(DryRun, ThatLandsLongMeansLessDragOrLessHeadwind) {
  const auto found = correct(landed(expected_ft() + 350.0));
  EXPECT_EQ(found.told, DryRunTold::something);
  EXPECT_LT(found.drag_relative.after.value, 0.0);
  EXPECT_LT(found.headwind_kt.after.value, found.headwind_kt.before.value);
  EXPECT_LT(found.drag_relative.after.sd, found.drag_relative.before.sd);
}

TEST(DryRun, TellsTheMoreTheFartherItLands) {
  double before = 1.0;
  for (const double off_ft : {-300.0, -150.0, 0.0, 150.0, 300.0}) {
    const double drag = correct(landed(expected_ft() + off_ft)).drag_relative.after.value;
    EXPECT_LT(drag, before) << off_ft;
    before = drag;
  }
}

TEST(DryRun, WithPowerALongLandingTellsLessThanWithoutAndAShortOneMore) {
  const double long_ft = expected_ft() + 350.0, short_ft = expected_ft() - 250.0;
  const auto drag = [](double along_ft, PowerUsed power) {
    return correct(landed(along_ft, power)).drag_relative.after.value;
  };
  EXPECT_GT(drag(long_ft, PowerUsed::assisted), drag(long_ft, PowerUsed::none));
  EXPECT_GT(drag(short_ft, PowerUsed::assisted), drag(short_ft, PowerUsed::none));
  const double perhaps = drag(long_ft, PowerUsed::unknown);
  EXPECT_GT(perhaps, drag(long_ft, PowerUsed::none));
  EXPECT_LT(perhaps, drag(long_ft, PowerUsed::assisted));
}

TEST(DryRun, WithPowerNearTheExpectedPlaceTellsAlmostNothing) {
  EXPECT_EQ(correct(landed(expected_ft() + 250.0, PowerUsed::assisted)).told, DryRunTold::little);
}

TEST(DryRun, ThatNothingExplainsChangesNothing) {
  const auto found = correct(landed(4000.0));
  EXPECT_EQ(found.told, DryRunTold::does_not_fit);
  EXPECT_EQ(found.drag_relative.after.value, 0.0);
  EXPECT_EQ(found.corrected.conditions.wind.at_10m.speed.value, k_request.conditions.wind.at_10m.speed.value);
}

TEST(DryRun, WithALogTakesTheWindFromItsGroundSpeeds) {
  DryRun dry_run = landed(expected_ft());
  const auto unmeasured = correct(dry_run);
  dry_run.wind = MeasuredWind{unmeasured.headwind_kt.before.value + 3.0, 0.8,
                              unmeasured.crosswind_from_right_kt.before.value - 2.0, 0.8};
  const auto found = correct(dry_run);
  // Gaussian update of a prior of 2 kt by a measurement of 0.8 kt: 0.86 of the way.
  EXPECT_NEAR(found.headwind_kt.after.value - found.headwind_kt.before.value, 2.6, 0.5);
  EXPECT_NEAR(found.crosswind_from_right_kt.after.value - found.crosswind_from_right_kt.before.value, -1.7,
              0.5);
  EXPECT_LT(found.headwind_kt.after.sd, 1.0);
}

TEST(DryRun, FliesTheCueThatWasFlown) {
  DryRun dry_run = landed(expected_ft());
  const double as_planned = expected_ft();
  dry_run.base_turn_s = k_cue_s + 3.0;
  // A later base turn lands shorter, so the same landing then speaks of less drag.
  const auto late = correct_by_dry_run(k_request, k_cue_s, dry_run);
  EXPECT_LT(late.expected_touchdown_ft.value, as_planned);
  EXPECT_LT(late.drag_relative.after.value, correct(landed(expected_ft())).drag_relative.after.value);
}

TEST(DryRun, ChangesTheRequestAsItSays) {
  const auto found = correct(landed(expected_ft() + 300.0));
  const auto& conditions = found.corrected.conditions;
  const auto [head, cross] = components(conditions.wind.at_10m, Degrees{conditions.runway_true_deg});
  EXPECT_NEAR(head.value, found.headwind_kt.after.value, 1e-9);
  EXPECT_NEAR(cross.value, found.crosswind_from_right_kt.after.value, 1e-9);
  const auto drag = [](const Airplane& airplane) {
    return airplane.polar.drag_over_weight(65.0, 2300.0, 20.0, 0.5, 1.1, 0.9);
  };
  EXPECT_NEAR(drag(found.corrected.airplane) / drag(k_request.airplane),
              1.0 + found.drag_relative.after.value, 1e-9);
}

/// Truths drawn from what is believed, one landing each: the beliefs after it must hold them as often as they
/// say. Covers 0.95 of 60 within 52 to 60 with probability 0.99 (binomial).
TEST(DryRun, BeliefsAfterItHoldTheTruth) {
  constexpr int days = 60;
  const auto landings = fly_over_spread(k_request, k_cue_s, 50000, days);
  int drag_held = 0, wind_held = 0;
  double error_before = 0.0, error_after = 0.0;
  for (int day = 0; day < days; ++day) {
    const Deviation truth =
        draw_deviation(k_request.scatter, 0.0, k_request.seed, static_cast<std::uint64_t>(50000 + day));
    const auto found = correct(landed(landings[static_cast<std::size_t>(day)].touchdown_ft));
    const auto held = [](const BeliefChange& belief, double value) {
      return std::abs(value - belief.after.value) < 1.96 * belief.after.sd;
    };
    drag_held += held(found.drag_relative, truth.glide_relative) ? 1 : 0;
    wind_held += held(found.headwind_kt, found.headwind_kt.before.value + truth.headwind_kt) ? 1 : 0;
    error_before += std::pow(truth.glide_relative, 2);
    error_after += std::pow(truth.glide_relative - found.drag_relative.after.value, 2);
  }
  EXPECT_GE(drag_held, 52);
  EXPECT_GE(wind_held, 52);
  EXPECT_LT(error_after, error_before);
}

}  // namespace
}  // namespace glidewright

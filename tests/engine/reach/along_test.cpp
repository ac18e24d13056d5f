#include "engine/reach/along.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "engine/plan/search.hpp"
#include "engine/units/words.hpp"
#include "tests/engine/reach/band_over.hpp"

namespace glidewright {
namespace {

Approach flown_with_cue(const PlanRequest& plan, double cue_s) {
  Technique technique = without_rules(plan.technique);
  technique.base_turn_s_after_abeam = cue_s;
  technique.go_around_when_unstable = false;
  return fly(plan.airplane, plan.conditions, technique, {}, {0.05, Trace::every_decision});
}

bool lost(const BandAlong& along, LastChance::Mean mean) {
  for (const auto& chance : along.last_chances) {
    if (chance.mean == mean) return true;
  }
  return false;
}

TEST(BandAlong, ALateBaseTurnLosesTheShortestWay) {
  const PlanRequest plan = into_wind(10.0);
  const CueFound cue = search_cue(plan);
  ASSERT_TRUE(cue.found);
  const Band band = Band::over(band_request(10.0), Surety::mean);
  const Approach flown = flown_with_cue(plan, cue.cue_s + 12.0);
  ASSERT_TRUE(flown.touchdown);
  ASSERT_LT(flown.touchdown->along_ft, -300.0);
  const BandAlong along = band_along(band, flown.trace);
  ASSERT_TRUE(lost(along, LastChance::Mean::shortest_way));
  for (const auto& chance : along.last_chances) {
    if (chance.mean != LastChance::Mean::shortest_way) continue;
    // Not before the planned turn, and before the wheels.
    EXPECT_GT(chance.time_s, cue.cue_s - 2.0);
    EXPECT_LT(chance.time_s, flown.touchdown->time_s);
  }
}

TEST(BandAlong, AnEarlyBaseTurnLosesThePathAloneFirst) {
  const PlanRequest plan = into_wind(10.0);
  const CueFound cue = search_cue(plan);
  ASSERT_TRUE(cue.found);
  const Band band = Band::over(band_request(10.0), Surety::mean);
  Technique clean = without_rules(plan.technique);
  clean.flaps.clear();
  clean.base_turn_s_after_abeam = cue.cue_s - 5.0;
  const Approach flown = fly(plan.airplane, plan.conditions, clean, {}, {0.05, Trace::every_decision});
  const BandAlong along = band_along(band, flown.trace);
  ASSERT_TRUE(lost(along, LastChance::Mean::path));
  EXPECT_FALSE(lost(along, LastChance::Mean::shortest_way));
  double path_s = 0.0, flaps_s = 1e9;
  for (const auto& chance : along.last_chances) {
    if (chance.mean == LastChance::Mean::path) path_s = chance.time_s;
    if (chance.mean == LastChance::Mean::flaps) flaps_s = chance.time_s;
  }
  EXPECT_LE(path_s, flaps_s);
}

Moment downwind_abeam(const BandRequest& request, double height_ft) {
  Moment abeam;
  abeam.along_ft = 500.0;
  abeam.cross_ft = -request.technique.spacing_ft;
  abeam.height_ft = height_ft;
  abeam.true_airspeed_kt = 70.0;
  abeam.heading_true_deg = request.conditions.runway_true_deg + 180.0;
  return abeam;
}

/// The longest way that is allowed is hardly longer than the shortest one.
BandRequest far_out_with_few_means() {
  BandRequest request = band_request(15.0);
  request.technique.spacing_ft = 7500.0;
  request.region = ReachRegion::pattern(request.technique.spacing_ft, request.means);
  request.means.farthest_past_abeam_ft = 0.0;
  request.means.slip = false;
  request.technique.flaps.clear();
  return request;
}

TEST(BandAlong, APlaceTooFarAndTooLowLiesBelowTheBand) {
  const BandRequest request = far_out_with_few_means();
  const BandAlong along = band_along(Band::over(request, Surety::mean), {downwind_abeam(request, 600.0)});
  ASSERT_EQ(along.places.size(), 1U);
  EXPECT_LT(along.places.front().height_ft, along.places.front().mean.lowest_ft);
}

TEST(BandAlong, AClosedBandSaysBelowWhichHeightThePointIsOutOfReach) {
  BandRequest request = band_request(8.0);
  request.obstacles = {{-100.0, 0.0, 150.0}};  // a wall before the box
  const BandAlong along = band_along(Band::over(request), {downwind_abeam(request, 1000.0)});
  ASSERT_EQ(along.places.size(), 1U);
  EXPECT_FALSE(along.places.front().mean.open());
  const double lowest_ft = std::round(along.places.front().mean.lowest_ft / 10.0) * 10.0;
  EXPECT_GT(lowest_ft, 500.0);
  EXPECT_THAT(along.empty_because,
              testing::HasSubstr(words("out of reach below %.0f ft, and above", lowest_ft)));
}

TEST(BandAlong, ABandThatOneWindOfTenClosesSaysSo) {
  BandRequest request = far_out_with_few_means();
  request.scatter.glide_relative = 0.4;
  const BandAlong along = band_along(Band::over(request), {downwind_abeam(request, 1500.0)});
  ASSERT_EQ(along.places.size(), 1U);
  EXPECT_TRUE(along.places.front().mean.open());
  EXPECT_FALSE(along.places.front().sure.open());
  EXPECT_THAT(along.empty_because, testing::HasSubstr("but not in nine of ten winds"));
}

TEST(BandAlong, ATrackThatEndsBeforeAbeamHasNoBand) {
  const Band band = Band::over(band_request(8.0), Surety::mean);
  EXPECT_THAT(band_along(band, {}).empty_because, testing::HasSubstr("no place between abeam and the gate"));
}

TEST(BandAlong, TheBandEndsAtTheGate) {
  const PlanRequest plan = into_wind(6.0);
  const CueFound cue = search_cue(plan);
  const Band band = Band::over(band_request(6.0), Surety::mean);
  const BandAlong along = band_along(band, flown_with_cue(plan, cue.cue_s).trace);
  ASSERT_FALSE(along.places.empty());
  for (const auto& at : along.places) EXPECT_GE(at.height_ft, 200.0);
  EXPECT_GE(along.places.front().time_s, 0.0);
}

}  // namespace
}  // namespace glidewright

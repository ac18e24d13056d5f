#include "engine/reach/along.hpp"

#include <gtest/gtest.h>

#include "engine/plan/search.hpp"
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

TEST(BandAlong, APlaceTooFarAndTooLowIsSaidInWords) {
  BandRequest request = band_request(15.0);
  request.technique.spacing_ft = 7500.0;
  request.region = ReachRegion::pattern(request.technique.spacing_ft, request.means);
  // The longest way that is allowed spends less than the shortest one needs, when both are the same way.
  request.means.farthest_past_abeam_ft = 0.0;
  request.means.slip = false;
  request.technique.flaps.clear();
  const Band band = Band::over(request, Surety::mean);
  Moment abeam;
  abeam.along_ft = 500.0;
  abeam.cross_ft = -7500.0;
  abeam.height_ft = 600.0;
  abeam.true_airspeed_kt = 70.0;
  abeam.heading_true_deg = request.conditions.runway_true_deg + 180.0;
  const BandAlong along = band_along(band, {abeam});
  ASSERT_EQ(along.places.size(), 1U);
  EXPECT_LT(along.places.front().height_ft, along.places.front().mean.lowest_ft);
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

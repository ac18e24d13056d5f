// Obstacles under the band's ways.

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <cmath>

#include "engine/reach/plan_band.hpp"
#include "tests/engine/reach/band_over.hpp"

namespace glidewright {
namespace {

RC_GTEST_PROP(ObstacleProperty, AnObstacleNeverWidensTheBand, ()) {
  BandRequest request = band_request(*rc::gen::inRange(0, 16), *rc::gen::inRange(-40, 40));
  request.grid = {80.0, 10.0};
  const Band free = Band::over(request, Surety::mean);
  const int count = *rc::gen::inRange(1, 4);
  for (int i = 0; i < count; ++i) {
    request.obstacles.push_back({static_cast<double>(*rc::gen::inRange(-6000, 1000)),
                                 static_cast<double>(*rc::gen::inRange(-4000, 500)),
                                 static_cast<double>(*rc::gen::inRange(0, 700))});
  }
  const Band band = Band::over(request, Surety::mean);
  for (const auto& at : round_the_pattern(request)) {
    const Room wide = free.room(at, Surety::mean), narrow = band.room(at, Surety::mean);
    RC_ASSERT(narrow.lowest_ft >= wide.lowest_ft - k_rounding_ft);
    if (narrow.open()) RC_ASSERT(narrow.by_slip_ft <= wide.by_slip_ft + k_rounding_ft);
  }
}

RC_GTEST_PROP(ObstacleProperty, AHigherOneLeavesNoMoreThanALower, ()) {
  BandRequest request = band_request(*rc::gen::inRange(0, 16));
  request.grid = {80.0, 10.0};
  const double along_ft = *rc::gen::inRange(-5000, -600), cross_ft = *rc::gen::inRange(-2500, 100);
  const int height_ft = *rc::gen::inRange(0, 500);
  request.obstacles = {{along_ft, cross_ft, static_cast<double>(height_ft)}};
  const Band lower = Band::over(request, Surety::mean);
  request.obstacles.front().height_ft += *rc::gen::inRange(0, 200);
  const Band higher = Band::over(request, Surety::mean);
  for (const auto& at : round_the_pattern(request)) {
    RC_ASSERT(higher.room(at, Surety::mean).lowest_ft >=
              lower.room(at, Surety::mean).lowest_ft - k_rounding_ft);
  }
}

TEST(Obstacles, OneFarBelowTheGlideChangesNothing) {
  BandRequest request = band_request(8.0);
  const Band free = Band::over(request, Surety::mean);
  request.obstacles = {
      {-4000.0, 2000.0, 10.0}, {-3000.0, -400.0, 10.0}, {-1500.0, 0.0, 10.0}, {500.0, 0.0, 0.0}};
  const Band band = Band::over(request, Surety::mean);
  for (const auto& at : round_the_pattern(request)) {
    EXPECT_EQ(free.room(at, Surety::mean).lowest_ft, band.room(at, Surety::mean).lowest_ft);
    EXPECT_EQ(free.room(at, Surety::mean).by_slip_ft, band.room(at, Surety::mean).by_slip_ft);
  }
}

TEST(Obstacles, LinedUpBeforeAMastTheLowestIsTheGlideToItsTop) {
  BandRequest request = band_request(0.0);
  request.technique.downwind_speed_kt = request.technique.base_speed_kt = request.technique.final_speed_kt;
  constexpr double mast_ft = 400.0, before_it_ft = 1000.0;
  request.obstacles = {{-3000.0, 0.0, mast_ft}};
  const Band band = Band::over(request, Surety::mean);
  const double on_final_ft = band.height_on_final_ft(-3000.0 - before_it_ft, 0.0, request.box.low_ft);
  // Still air: height over distance is the tangent of the glide; the mast stands between two places 10 ft
  // apart.
  const Flight& flight = band.flight();
  const double drag = request.airplane.polar.drag_over_weight(
      flight.calibrated_kt(flight.true_fps(request.technique.final_speed_kt)), flight.weight_lb, 0.0, 0.0,
      1.0, 1.0);
  const double by_hand_ft =
      mast_ft + request.obstacle_clearance_ft + before_it_ft * drag / std::sqrt(1.0 - drag * drag);
  EXPECT_NEAR(on_final_ft, by_hand_ft, 2.0);
}

TEST(Obstacles, TreesAtTheThresholdMoveTheLowestTouchdownIn) {
  BandRequest request = band_request(8.0);
  const Room free = Band::over(request, Surety::mean).room(place(-4000.0, 0.0, 0.0), Surety::mean);
  request.obstacles = {{-700.0, 0.0, 20.0}};
  const Room room = Band::over(request, Surety::mean).room(place(-4000.0, 0.0, 0.0), Surety::mean);
  EXPECT_TRUE(room.open());
  EXPECT_GT(room.lowest_ft, free.lowest_ft + 5.0);
}

TEST(Obstacles, AWallBeforeTheBoxClosesTheBand) {
  BandRequest request = band_request(8.0);
  request.obstacles = {{-100.0, 0.0, 150.0}};
  const Band band = Band::over(request, Surety::mean);
  for (const auto& at : round_the_pattern(request)) EXPECT_FALSE(band.room(at, Surety::mean).open());
}

TEST(Obstacles, OneOnBaseRaisesTheWayBeforeItAndNotAfter) {
  BandRequest request = band_request(5.0);
  const auto before = place(-2900.0, -2100.0, 90.0), after = place(-2900.0, -700.0, 90.0);
  const Band free = Band::over(request, Surety::mean);
  request.obstacles = {{-2900.0, -1600.0, 700.0}};
  const Band band = Band::over(request, Surety::mean);
  EXPECT_GT(band.room(before, Surety::mean).lowest_ft, free.room(before, Surety::mean).lowest_ft + 20.0);
  EXPECT_NEAR(band.room(after, Surety::mean).lowest_ft, free.room(after, Surety::mean).lowest_ft, 12.0);
}

TEST(Obstacles, RightHandTrafficMeetsTheMirroredOne) {
  BandRequest left = band_request(10.0, 30.0), right = band_request(10.0, -30.0);
  right.conditions.traffic = Traffic::right;
  left.obstacles = {{-2800.0, -1500.0, 600.0}};
  right.obstacles = {{-2800.0, 1500.0, 600.0}};
  const Band a = Band::over(left, Surety::mean), b = Band::over(right, Surety::mean);
  for (const auto& at : round_the_pattern(left)) {
    EXPECT_NEAR(a.room(at, Surety::mean).lowest_ft, b.room(at, Surety::mean).lowest_ft, 0.01);
  }
}

}  // namespace
}  // namespace glidewright

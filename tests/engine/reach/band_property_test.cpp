// What holds of a band in any wind and at any place.

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <cmath>

#include "tests/engine/reach/band_over.hpp"

namespace glidewright {
namespace {

/// Coarse, so that a hundred scenes take seconds: the properties are the method's, whatever the grid.
BandRequest any_request() {
  BandRequest request = band_request(*rc::gen::inRange(0, 17), *rc::gen::inRange(-40, 41));
  request.technique.spacing_ft = *rc::gen::inRange(2500, 3700);
  request.region = ReachRegion::pattern(request.technique.spacing_ft, request.means);
  request.grid = {80.0, 10.0};
  return request;
}

/// On the pattern's side of the centreline and before the gate's place.
PlaceInPattern any_place(const BandRequest& request) {
  return place(*rc::gen::inRange(-5000, -2500),
               -*rc::gen::inRange(300, static_cast<int>(request.technique.spacing_ft)),
               *rc::gen::inRange(0, 181));
}

RC_GTEST_PROP(BandProperty, ASlipAndALongerWayNeverLowerTheUpperEdge, ()) {
  const BandRequest all = any_request();
  BandRequest no_slip = all, shorter = all;
  no_slip.means.slip = false;
  shorter.means.farthest_past_abeam_ft = *rc::gen::inRange(2000, 6000);
  const Band widest = Band::over(all, Surety::mean);
  const Band without = Band::over(no_slip, Surety::mean), nearer = Band::over(shorter, Surety::mean);
  for (int i = 0; i < 10; ++i) {
    const PlaceInPattern at = any_place(all);
    const Room wide = widest.room(at, Surety::mean);
    for (const Band* fewer : {&without, &nearer}) {
      const Room narrow = fewer->room(at, Surety::mean);
      RC_ASSERT(wide.by_slip_ft >= narrow.by_slip_ft - k_rounding_ft);
      RC_ASSERT(wide.lowest_ft <= narrow.lowest_ft + k_rounding_ft);
    }
  }
}

RC_GTEST_PROP(BandProperty, EachMeanOnlyAdds, ()) {
  const BandRequest request = any_request();
  const Band band = Band::over(request, Surety::mean);
  for (int i = 0; i < 10; ++i) {
    const Room room = band.room(any_place(request), Surety::mean);
    RC_ASSERT(room.by_path_ft <= room.by_flaps_ft);
    RC_ASSERT(room.by_flaps_ft <= room.by_slip_ft);
    RC_ASSERT(room.lowest_ft <= room.lowest_with_landing_flap_ft);
    RC_ASSERT(room.error_ft >= 0.0);
  }
}

RC_GTEST_PROP(BandProperty, TheMirroredPatternHasTheSameBand, ()) {
  const int wind_kt = *rc::gen::inRange(0, 17), off_deg = *rc::gen::inRange(-40, 41);
  BandRequest left = band_request(wind_kt, off_deg), right = band_request(wind_kt, -off_deg);
  left.grid = right.grid = {80.0, 10.0};
  right.conditions.traffic = Traffic::right;
  const Band a = Band::over(left), b = Band::over(right);
  for (int i = 0; i < 10; ++i) {
    const PlaceInPattern at = any_place(left);
    for (const Surety surety : {Surety::mean, Surety::nine_in_ten}) {
      RC_ASSERT(std::abs(a.room(at, surety).lowest_ft - b.room(at, surety).lowest_ft) <= k_rounding_ft);
      RC_ASSERT(std::abs(a.room(at, surety).by_slip_ft - b.room(at, surety).by_slip_ft) <= k_rounding_ft);
    }
  }
}

RC_GTEST_PROP(BandProperty, MoreHeadwindNeverLowersTheLowerEdgeOnFinal, ()) {
  const int calmer_kt = *rc::gen::inRange(0, 14);
  BandRequest calmer = band_request(calmer_kt), windier = band_request(calmer_kt + *rc::gen::inRange(1, 6));
  calmer.grid = windier.grid = {80.0, 10.0};
  const PlaceInPattern at = place(*rc::gen::inRange(-6000, -2500), 0.0, 0.0);
  RC_ASSERT(Band::over(windier, Surety::mean).room(at, Surety::mean).lowest_ft >=
            Band::over(calmer, Surety::mean).room(at, Surety::mean).lowest_ft - k_rounding_ft);
}

RC_GTEST_PROP(BandProperty, NineInTenIsNeverWiderThanTheMean, ()) {
  const BandRequest request = any_request();
  const Band band = Band::over(request);
  for (int i = 0; i < 10; ++i) {
    const PlaceInPattern at = any_place(request);
    const Room mean = band.room(at, Surety::mean), sure = band.room(at, Surety::nine_in_ten);
    RC_ASSERT(sure.lowest_ft >= mean.lowest_ft);
    RC_ASSERT(sure.by_slip_ft <= mean.by_slip_ft);
  }
}

RC_GTEST_PROP(BandProperty, OnFinalItNarrowsTowardsThePoint, ()) {
  BandRequest request = band_request(*rc::gen::inRange(0, 17), *rc::gen::inRange(-40, 41));
  request.grid = {80.0, 10.0};
  const Band band = Band::over(request, Surety::mean);
  const double far_ft = *rc::gen::inRange(-5000, -2600), near_ft = far_ft + *rc::gen::inRange(100, 400);
  const auto width_ft = [&](double along_ft) {
    const Room room = band.room(place(along_ft, 0.0, band.crab_rad() / k_radians_per_degree), Surety::mean);
    return room.by_slip_ft - room.lowest_ft;
  };
  RC_ASSERT(width_ft(near_ft) <= width_ft(far_ft) + k_rounding_ft);
}

}  // namespace
}  // namespace glidewright

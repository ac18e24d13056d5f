#include "engine/reach/band.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "engine/plan/search.hpp"
#include "tests/engine/reach/band_over.hpp"
#include "threads/crew.hpp"

namespace glidewright {
namespace {

TEST(Band, MoreMeansNeverShrinkIt) {
  for (const double wind_kt : {0.0, 10.0}) {
    const BandRequest all = band_request(wind_kt, 20.0);
    BandRequest no_slip = all, shorter = all, shallower = all, shallowest = all;
    no_slip.means.slip = false;
    shorter.means.farthest_past_abeam_ft = 4500.0;
    shallower.means.bank_deg = 25.0;
    shallowest.means.bank_deg = 10.0;  // in one step of its turn it flies four cells
    const Band widest = Band::over(all, Surety::mean);
    for (const BandRequest& fewer : {no_slip, shorter, shallower, shallowest}) {
      const Band band = Band::over(fewer, Surety::mean);
      for (const auto& at : round_the_pattern(all)) {
        const Room wide = widest.room(at, Surety::mean), narrow = band.room(at, Surety::mean);
        const double error_ft = wide.error_ft + narrow.error_ft + 1.0;
        EXPECT_LE(wide.lowest_ft, narrow.lowest_ft + error_ft) << at.along_ft << " " << at.cross_ft;
        // Gentler turns are reckoned as straights between turns at the limit, which loses up to half a
        // percent of the upper edge: only the lower one is compared between banks.
        if (fewer.means.bank_deg < all.means.bank_deg) continue;
        EXPECT_GE(wide.by_slip_ft, narrow.by_slip_ft - error_ft) << at.along_ft << " " << at.cross_ft;
      }
    }
  }
}

TEST(Band, EachMeanRaisesTheUpperEdge) {
  const BandRequest request = band_request(8.0);
  const Band band = Band::over(request, Surety::mean);
  for (const auto& at : round_the_pattern(request)) {
    const Room room = band.room(at, Surety::mean);
    EXPECT_LE(room.by_path_ft, room.by_flaps_ft);
    EXPECT_LE(room.by_flaps_ft, room.by_slip_ft);
    EXPECT_LE(room.lowest_ft, room.lowest_with_landing_flap_ft);
  }
}

TEST(Band, MoreHeadwindMovesTheLowerEdgeUpOnBaseAndFinal) {
  const std::vector<PlaceInPattern> places = {place(-2600.0, -2000.0, 90.0), place(-2600.0, -1300.0, 90.0),
                                              place(-3000.0, 0.0, 0.0)};
  std::vector<double> before(places.size(), 0.0);
  for (const double wind_kt : {4.0, 8.0, 12.0, 16.0}) {
    const Band band = Band::over(band_request(wind_kt), Surety::mean);
    for (std::size_t i = 0; i < places.size(); ++i) {
      const double lowest_ft = band.room(places[i], Surety::mean).lowest_ft;
      EXPECT_GT(lowest_ft, before[i]) << wind_kt << " kt, place " << i;
      before[i] = lowest_ft;
    }
  }
}

TEST(Band, RightHandTrafficInMirroredWindHasTheSameBand) {
  const BandRequest left = band_request(10.0, 40.0);
  BandRequest right = band_request(10.0, -40.0);
  right.conditions.traffic = Traffic::right;
  const Band a = Band::over(left), b = Band::over(right);
  for (const auto& at : round_the_pattern(left)) {
    for (const Surety surety : {Surety::mean, Surety::nine_in_ten}) {
      const Room one = a.room(at, surety), other = b.room(at, surety);
      EXPECT_NEAR(one.lowest_ft, other.lowest_ft, 0.01);
      EXPECT_NEAR(one.by_slip_ft, other.by_slip_ft, 0.01);
    }
  }
}

TEST(Band, NineInTenLiesInsideTheMean) {
  const BandRequest request = band_request(10.0, 30.0);
  const Band band = Band::over(request);
  for (const auto& at : round_the_pattern(request)) {
    const Room mean = band.room(at, Surety::mean), sure = band.room(at, Surety::nine_in_ten);
    EXPECT_GT(sure.lowest_ft, mean.lowest_ft);
    EXPECT_LT(sure.by_slip_ft, mean.by_slip_ft);
  }
}

TEST(Band, APointOnThePlanIsInside) {
  for (const double wind_kt : {0.0, 6.0, 12.0}) {
    const PlanRequest plan = into_wind(wind_kt);
    const CueFound cue = search_cue(plan);
    ASSERT_TRUE(cue.found);
    const Approach nominal = fly_nominal(plan, cue.cue_s, Trace::every_decision);
    const BandRequest request = band_request(wind_kt);
    const BandAlong along = band_along(Band::over(request, Surety::mean), nominal.trace, 3.0);
    ASSERT_GT(along.places.size(), 10U);
    for (const auto& at : along.places) {
      const double error_ft = at.mean.error_ft + 12.0;  // the plan is flown with all its lags
      EXPECT_GE(at.height_ft, at.mean.lowest_ft - error_ft) << wind_kt << " kt at " << at.time_s << " s";
      EXPECT_LE(at.height_ft, at.mean.by_slip_ft + error_ft) << wind_kt << " kt at " << at.time_s << " s";
    }
    EXPECT_EQ(along.empty_because, "");
  }
}

TEST(Band, OnFinalItNarrowsTowardsThePoint) {
  const Band band = Band::over(band_request(8.0), Surety::mean);
  double before_ft = 1e9;
  for (double along_ft = -4500.0; along_ft <= -2400.0; along_ft += 300.0) {
    const Room room = band.room(place(along_ft, 0.0, band.crab_rad() / k_radians_per_degree), Surety::mean);
    const double width_ft = room.by_slip_ft - room.lowest_ft;
    EXPECT_LT(width_ft, before_ft) << along_ft;
    before_ft = width_ft;
  }
}

/// Still air, no turn but the last one: the circle that touches the centreline, then the glide to the gate.
/// Height of the turn and the glide by hand; source of the turn's drag: the polar at n = cos(path) /
/// cos(bank).
TEST(Band, InStillAirTheLowerEdgeIsTheTurnPlusTheGlide) {
  BandRequest request = band_request(0.0);
  request.grid = {20.0, 2.5};
  // One speed everywhere, so that the turn is a circle.
  request.technique.downwind_speed_kt = request.technique.base_speed_kt = request.technique.final_speed_kt;
  const Band band = Band::over(request, Surety::mean);
  const Flight& flight = band.flight();
  const double speed_fps = flight.true_fps(request.technique.final_speed_kt);
  const double bank_rad = request.means.bank_deg * k_radians_per_degree;
  const auto drag = [&](double load) {
    return request.airplane.polar.drag_over_weight(flight.calibrated_kt(speed_fps), flight.weight_lb, 0.0,
                                                   0.0, load, 1.0);
  };
  const double level = std::sqrt(1.0 - drag(1.0) * drag(1.0));
  const double turning = std::sqrt(1.0 - std::pow(drag(level / std::cos(bank_rad)), 2));
  const double turn_drag = drag(turning / std::cos(bank_rad));
  const double radius_ft = speed_fps * speed_fps * turning / (k_gravity_fps2 * std::tan(bank_rad));
  const double turn_s = 0.5 * std::numbers::pi * speed_fps / (k_gravity_fps2 * std::tan(bank_rad));

  PlaceInPattern at = place(-4000.0, -radius_ft, 90.0);
  at.bank_rad = -bank_rad;  // in the turn already: no roll-in
  const double end_along_ft = at.along_ft + radius_ft;
  const double on_final_ft = band.height_on_final_ft(end_along_ft, 0.0, request.box.low_ft);
  const double by_hand_ft = on_final_ft + turn_s * speed_fps * turn_drag;
  const Room room = band.room(at, Surety::mean);
  EXPECT_NEAR(room.lowest_ft, by_hand_ft, room.error_ft + 1.0);

  // And the glide above the gate: height over distance is the drag's tangent.
  const double farther_ft = band.height_on_final_ft(end_along_ft - 1000.0, 0.0, request.box.low_ft);
  EXPECT_NEAR(farther_ft - on_final_ft, 1000.0 * drag(1.0) / level, 0.5);
}

TEST(Band, AFinerGridMovesTheEdgesByLessThanTheStatedError) {
  const BandRequest usual = band_request(10.0, 30.0);
  BandRequest fine = usual;
  fine.grid = {20.0, 2.5};
  const Band coarse_band = Band::over(usual, Surety::mean), fine_band = Band::over(fine, Surety::mean);
  for (const auto& at : round_the_pattern(usual)) {
    const Room coarse = coarse_band.room(at, Surety::mean), finer = fine_band.room(at, Surety::mean);
    EXPECT_NEAR(coarse.lowest_ft, finer.lowest_ft, coarse.error_ft + 2.0)
        << at.along_ft << " " << at.cross_ft;
  }
}

/// The least height abeam from which any base course and cue lands in the box, flown by the reference.
double lowest_flown_ft(const BandRequest& request) {
  Technique technique = without_rules(request.technique);
  technique.flaps.clear();
  technique.go_around_when_unstable = false;
  technique.final_turn_bank_limit_deg = request.means.bank_deg;
  constexpr IntegratorSettings settings{0.1, Trace::none, Watch::touchdown_only};
  const auto lands = [&](double height_ft) {
    technique.pattern_height_ft = height_ft;
    for (double course_deg = -60.0; course_deg <= 10.0; course_deg += 5.0) {
      for (double cue_s = 0.0; cue_s <= 14.0; cue_s += 1.0) {
        technique.base_course_deg = course_deg;
        technique.base_turn_s_after_abeam = cue_s;
        const Approach flown = fly(request.airplane, request.conditions, technique, {}, settings);
        if (!flown.touchdown || !flown.gate || std::abs(flown.gate->cross_ft) > 150.0 ||
            std::abs(flown.gate->bank_deg) > 15.0) {
          continue;
        }
        const double along_ft = flown.touchdown->along_ft;
        if (along_ft >= request.box.low_ft && along_ft <= request.box.high_ft) return true;
      }
    }
    return false;
  };
  double low = 400.0, high = 1100.0;
  while (high - low > 4.0) {
    const double middle = 0.5 * (low + high);
    (lands(middle) ? high : low) = middle;
  }
  return high;
}

TEST(Band, TheLowerEdgeAbeamIsThatOfFullDynamicsWithin25Feet) {
  for (const double wind_kt : {0.0, 10.0}) {
    const BandRequest request = band_request(wind_kt);
    const Band band = Band::over(request, Surety::mean);
    PlaceInPattern at = abeam(request);
    at.height_ft = band.room(at, Surety::mean).lowest_ft;
    at.speed_fps = band.flight().true_fps(request.technique.pattern_speed_kt);
    at.thrust_over_weight = request.airplane.polar.drag_over_weight(
        request.technique.pattern_speed_kt, band.flight().weight_lb, 0.0, 0.0, 1.0, 1.0);
    EXPECT_NEAR(band.room(at, Surety::mean).lowest_ft, lowest_flown_ft(request), 25.0) << wind_kt;
  }
}

TEST(Band, SharedOutOverThreadsGivesTheSameNumbers) {
  const BandRequest request = band_request(9.0, 50.0);
  Crew crew(2);
  const Band alone = Band::over(request);
  const Band together =
      Band::over(request, Surety::nine_in_ten,
                 [&](int count, const std::function<void(int)>& piece) { crew.work(count, piece); });
  for (const auto& at : round_the_pattern(request)) {
    EXPECT_EQ(alone.room(at, Surety::nine_in_ten).lowest_ft,
              together.room(at, Surety::nine_in_ten).lowest_ft);
    EXPECT_EQ(alone.room(at, Surety::nine_in_ten).by_slip_ft,
              together.room(at, Surety::nine_in_ten).by_slip_ft);
  }
}

}  // namespace
}  // namespace glidewright

#include "engine/debrief/wind.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "engine/track/wind_fit.hpp"
#include "tests/engine/track/reference_flight.hpp"

namespace glidewright {
namespace {

constexpr Feet k_antenna{4.1};

WindEstimate wind_of(const TrackLog& log, const reference::Flight& flight, const WindPrior& prior) {
  const SmoothTrack track = smooth(log, flight.frame(), k_antenna);
  return estimate_wind(track, find_attempts(track, log, flight.frame()), flight.frame(), prior);
}

// The wind triangle: 70 kt of true airspeed on headings 0, 120 and 240 in a wind from 240 at 15 kt makes good
// 78.581 kt on 9.515, 78.581 kt on 110.485 and 55.000 kt on 240.000.
TEST(Wind, ThreeTracksAtOneAirspeed) {
  struct Leg {
    double groundspeed_kt, course_deg;
  };
  const Leg legs[] = {{78.581, 9.515}, {78.581, 110.485}, {55.000, 240.000}};
  std::vector<CircuitVelocity> velocities;
  for (const Leg& leg : legs) {
    const double angle = leg.course_deg * k_radians_per_degree;  // a runway that points north
    CircuitVelocity v;
    v.time_s = 10.0 * static_cast<double>(velocities.size());
    v.height_ft = 10.0 / k_metres_per_foot;  // where winds are reported: no profile to unfold
    v.along_fps = leg.groundspeed_kt * k_fps_per_knot * std::cos(angle);
    v.cross_fps = leg.groundspeed_kt * k_fps_per_knot * std::sin(angle);
    velocities.push_back(v);
  }
  velocities.front().new_airspeed_fps = 90.0 * k_fps_per_knot;  // not the 70 that was flown: the tracks tell
  velocities.front().new_airspeed_sd_fps = 1e4;
  // One airspeed and no gusts, as the triangle has it; no belief.
  const AirspeedModel steady{.wander_sd_fps = 1e-3, .gust_sd_fps = 1e-3};
  WindBelief none;
  none.sd_fps = 1e4;
  const WindVector wind = fit_wind(velocities, steady, none).wind;
  // Tracks are printed to 0.0005 kt and degree.
  EXPECT_NEAR(std::hypot(wind.along_fps, wind.cross_fps) / k_fps_per_knot, 15.0, 0.01);
  EXPECT_NEAR(wrap_360_deg(std::atan2(-wind.cross_fps, -wind.along_fps) / k_radians_per_degree), 240.0, 0.02);
}

TEST(Wind, ReferenceFlightsWithoutAReport) {
  std::vector<double> speed_errors_kt;
  double squares = 0.0, count = 0.0;
  for (const std::string& name : reference::k_flights) {
    const auto flight = reference::read_flight(name);
    const TrackLog log = reference::read_gpx(reference::folder(name) + name + ".gpx");
    const WindEstimate wind = wind_of(log, flight, {});
    const auto& truth = flight.truth["wind"]["at_10m"];
    const double head = (wind.headwind_kt - truth["headwind_kt"].get<double>()) / wind.headwind_sd_kt;
    const double cross = (wind.crosswind_from_right_kt - truth["crosswind_from_right_kt"].get<double>()) /
                         wind.crosswind_sd_kt;
    EXPECT_LT(std::abs(head), 3.0) << name;
    EXPECT_LT(std::abs(cross), 3.0) << name;
    squares += head * head + cross * cross;
    count += 2.0;
    const double speed = truth["speed_kt"];
    if (speed > 5.0) speed_errors_kt.push_back(std::abs(wind.speed_kt - speed));
  }
  std::sort(speed_errors_kt.begin(), speed_errors_kt.end());
  EXPECT_LT(speed_errors_kt[speed_errors_kt.size() / 2], 3.0);
  // Honest deviations: twenty components, mean square 1 with a deviation of 0.32.
  EXPECT_LT(squares / count, 1.7);
  EXPECT_GT(squares / count, 0.25);
}

TEST(Wind, ReportNarrowsIt) {
  const auto flight = reference::read_flight("F03");
  const TrackLog log = reference::read_gpx(reference::folder("F03") + "F03.gpx");
  WindPrior prior;
  prior.reported = WindProfile{.at_10m = {{213.3}, {11.7}}, .gust = {}, .aloft = {}};
  const WindEstimate with = wind_of(log, flight, prior);
  const WindEstimate without = wind_of(log, flight, {});
  EXPECT_LT(with.headwind_sd_kt, without.headwind_sd_kt);
  EXPECT_LT(with.crosswind_sd_kt, without.crosswind_sd_kt);
  EXPECT_NEAR(with.headwind_kt, 10.0, 2.0 * with.headwind_sd_kt);
  EXPECT_NEAR(with.crosswind_from_right_kt, 6.0, 2.0 * with.crosswind_sd_kt);
}

TEST(Wind, NothingFlownLeavesTheBelief) {
  const auto flight = reference::read_flight("F03");
  const WindEstimate calm = estimate_wind({}, {}, flight.frame(), {});
  EXPECT_NEAR(calm.speed_kt, 0.0, 1e-9);
  EXPECT_NEAR(calm.headwind_sd_kt, 10.0, 1e-6);
  EXPECT_GT(calm.from_sd_deg, 85.0);
  WindPrior prior;
  prior.reported = WindProfile{.at_10m = {{300.0}, {12.0}}, .gust = {}, .aloft = {}};
  const WindEstimate reported = estimate_wind({}, {}, flight.frame(), prior);
  EXPECT_NEAR(reported.speed_kt, 12.0, 1e-9);
  EXPECT_NEAR(reported.from_true_deg, 300.0, 1e-9);
  EXPECT_NEAR(reported.speed_sd_kt, 3.0, 1e-6);
}

TEST(Wind, MirroredPatternGivesMirroredCrosswind) {
  const auto flight = reference::read_flight("F18");
  const RunwayFrame frame = flight.frame();
  TrackLog log = reference::read_gpx(reference::folder("F18") + "F18.gpx");
  const WindEstimate wind = wind_of(log, flight, {});
  for (Fix& fix : log.fixes) {
    RunwayPoint place = frame.to_runway(fix.place);
    place.cross_ft = -place.cross_ft;
    fix.place = frame.to_geodetic(place);
  }
  const WindEstimate mirrored = wind_of(log, flight, {});
  EXPECT_NEAR(wind.headwind_kt, mirrored.headwind_kt, 0.02);
  EXPECT_NEAR(wind.crosswind_from_right_kt, -mirrored.crosswind_from_right_kt, 0.02);
}

}  // namespace
}  // namespace glidewright

#include "engine/track/smooth.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <numbers>
#include <random>

#include "engine/units/units.hpp"

namespace glidewright {
namespace {

const Runway k_runway{.airfield = "invented",
                      .designator = "27",
                      .threshold = {48.0, 11.0},
                      .true_bearing = {270.0},
                      .elevation = {1500.0},
                      .length = {4000.0}};
const RunwayFrame k_frame(k_runway, Feet{800.0});
constexpr Feet k_antenna{4.0};

struct Truth {
  double along_ft = 0.0, cross_ft = 0.0, height_ft = 0.0;
};
using Path = std::function<Truth(double)>;

/// Two minutes of orbits of 800 ft radius at 110 ft/s, sinking 12 ft/s in a slow wave.
Truth orbit(double t) {
  const double angle = 110.0 / 800.0 * t;
  return {800.0 * std::cos(angle), 2000.0 + 800.0 * std::sin(angle),
          2000.0 - 12.0 * t + 40.0 * std::sin(t / 15.0)};
}

/// Standing on the runway, then a roll of 80 s at up to 25 kt, then standing.
Truth rollout(double t) {
  const double rolling = std::clamp(t - 20.0, 0.0, 80.0);
  return {-400.0 + 20.0 * rolling - 2.0 * std::sin(rolling * std::numbers::pi / 40.0), 5.0, 0.0};
}

/// A receiver: white noise and a slow wander, as DeviceNoise says them.
TrackLog record(const Path& path, double duration_s, double step_s, std::uint32_t seed,
                const DeviceNoise& noise = {}, double bias_ft = 0.0) {
  std::mt19937 random(seed);
  std::normal_distribution<double> normal;
  std::array<double, 3> wander{noise.place_wander_ft * normal(random), noise.place_wander_ft * normal(random),
                               noise.height_wander_ft * normal(random)};
  TrackLog log;
  for (double t = 0.0; t <= duration_s; t += step_s) {
    const double place_memory = std::exp(-step_s / 60.0), height_memory = std::exp(-step_s / 120.0);
    for (std::size_t axis = 0; axis < 2; ++axis) {
      wander[axis] = place_memory * wander[axis] +
                     noise.place_wander_ft * std::sqrt(1.0 - place_memory * place_memory) * normal(random);
    }
    wander[2] = height_memory * wander[2] +
                noise.height_wander_ft * std::sqrt(1.0 - height_memory * height_memory) * normal(random);
    const Truth truth = path(t);
    Fix fix;
    fix.time_unix_s = 1.7e9 + t;
    fix.place = k_frame.to_geodetic({truth.along_ft + wander[0] + noise.place_white_ft * normal(random),
                                     truth.cross_ft + wander[1] + noise.place_white_ft * normal(random)});
    fix.altitude_ft = 1500.0 + k_antenna.value + truth.height_ft + bias_ft + wander[2] +
                      noise.height_white_ft * normal(random);
    log.fixes.push_back(fix);
  }
  return log;
}

double speed_along(const Path& path, double t) {
  return (path(t + 0.01).along_ft - path(t - 0.01).along_ft) / 0.02;
}

TEST(Smooth, TwoSigmaHoldNineteenInTwenty) {
  double place = 0.0, speed = 0.0, all = 0.0;
  for (std::uint32_t seed = 1; seed <= 40; ++seed) {
    const double step_s = seed % 2 == 0 ? 1.0 : 0.2;
    const TrackLog log = record(orbit, 120.0, step_s, seed);
    const SmoothTrack track = smooth(log, k_frame, k_antenna);
    for (std::size_t i = 0; i < track.states.size(); i += 20) {
      const TrackState& s = track.states[i];
      const double t = s.time_unix_s - 1.7e9;
      all += 1.0;
      place += std::abs(s.along_ft - orbit(t).along_ft) < 2.0 * s.place_sd_ft ? 1.0 : 0.0;
      speed += std::abs(s.along_fps - speed_along(orbit, t)) < 2.0 * s.speed_sd_fps ? 1.0 : 0.0;
    }
  }
  // 95.4 % of a normal error; some 700 correlated samples leave two points either way, and a circle is kinder
  // than the random accelerations that the filter expects.
  EXPECT_GT(place / all, 0.92);
  EXPECT_GT(speed / all, 0.92);
  EXPECT_LT(place / all, 0.995);
}

TEST(Smooth, WanderIsNotAveragedAway) {
  const SmoothTrack track = smooth(record(orbit, 600.0, 0.2, 3), k_frame, k_antenna);
  const DeviceNoise noise;
  for (const TrackState& s : track.states) {
    EXPECT_GE(s.place_sd_ft, noise.place_wander_ft);
    EXPECT_GE(s.height_sd_ft, noise.height_wander_ft);
  }
}

TEST(Smooth, RolloutSetsTheHeight) {
  const double bias_ft = 65.0;  // a receiver's height can be that wrong
  const SmoothTrack track = smooth(record(rollout, 120.0, 1.0, 5, {}, bias_ft), k_frame, k_antenna);
  EXPECT_TRUE(track.height_zeroed_on_ground);
  for (const TrackState& s : track.states) EXPECT_NEAR(s.height_ft, 0.0, 4.0 * s.height_sd_ft);
  EXPECT_LT(track.states[60].height_sd_ft, 5.0);
  EXPECT_NEAR(track.height_shift_ft, -bias_ft, 3.0 * DeviceNoise{}.height_wander_ft);
}

TEST(Smooth, SlopingRunwayIsFollowed) {
  Runway sloping = k_runway;
  sloping.slope_percent = 2.0;
  const RunwayFrame frame(sloping, Feet{800.0});
  const auto uphill = [](double t) {
    Truth truth = rollout(t);
    truth.height_ft = 0.02 * (truth.along_ft + 800.0);  // above the threshold's elevation
    return truth;
  };
  const SmoothTrack track = smooth(record(uphill, 120.0, 1.0, 6), frame, k_antenna);
  for (const TrackState& s : track.states) {
    EXPECT_NEAR(s.height_ft, 0.02 * s.along_ft, 4.0 * s.height_sd_ft);
  }
}

TEST(Smooth, WithoutGroundRunHeightStaysUncertain) {
  const SmoothTrack track = smooth(record(orbit, 100.0, 1.0, 7), k_frame, k_antenna);
  EXPECT_FALSE(track.height_zeroed_on_ground);
  EXPECT_GT(track.states[50].height_sd_ft, 30.0);
}

TEST(Smooth, OutliersAreOutvoted) {
  TrackLog log = record(orbit, 120.0, 1.0, 8);
  const TrackLog clean = log;
  log.fixes[40].place.latitude_deg += 0.02;  // more than a mile
  log.fixes[70].place.longitude_deg -= 0.001;
  log.fixes[90].altitude_ft = 0.0;
  const SmoothTrack track = smooth(log, k_frame, k_antenna);
  for (const std::size_t i : {39u, 40u, 41u, 70u, 90u}) {
    const Truth truth = orbit(static_cast<double>(i));
    // Five deviations: one fix is missing, so its own place rests on its neighbours.
    EXPECT_NEAR(track.states[i].along_ft, truth.along_ft, 5.0 * track.states[i].place_sd_ft) << i;
    EXPECT_NEAR(track.states[i].cross_ft, truth.cross_ft, 5.0 * track.states[i].place_sd_ft) << i;
    EXPECT_NEAR(track.states[i].height_ft, truth.height_ft, 5.0 * track.states[i].height_sd_ft) << i;
  }
}

TEST(Smooth, GapOnlyWidensTheDeviation) {
  TrackLog log = record(orbit, 120.0, 1.0, 9);
  std::erase_if(log.fixes,
                [](const Fix& f) { return f.time_unix_s > 1.7e9 + 50.5 && f.time_unix_s < 1.7e9 + 65.5; });
  for (Fix& fix : log.fixes) fix.segment = fix.time_unix_s > 1.7e9 + 60.0 ? 1 : 0;
  const SmoothTrack track = smooth(log, k_frame, k_antenna);
  const TrackState middle = track.at(1.7e9 + 58.0);
  EXPECT_GT(middle.place_sd_ft, 50.0);
  EXPECT_NEAR(middle.along_ft, orbit(58.0).along_ft, 3.0 * middle.place_sd_ft);
  EXPECT_LT(track.at(1.7e9 + 30.0).place_sd_ft, 10.0);
}

TEST(Smooth, DeviceThatJumpsIsFollowed) {
  TrackLog log = record(orbit, 120.0, 1.0, 10);
  for (Fix& fix : log.fixes) {
    if (fix.time_unix_s > 1.7e9 + 60.0) fix.place.latitude_deg += 0.01;  // 3,650 ft, and stays there
  }
  const SmoothTrack track = smooth(log, k_frame, k_antenna);
  const double north_ft =
      0.01 * 111200.0 / k_metres_per_foot;  // a degree of latitude at 48 N; runway points west
  EXPECT_NEAR(track.states[100].cross_ft, orbit(100.0).cross_ft + north_ft, 40.0);
}

TEST(Smooth, MissingAltitudeIsUnknownNotZero) {
  TrackLog log = record(orbit, 120.0, 1.0, 11);
  for (std::size_t i = 0; i < log.fixes.size(); ++i) {
    if (i % 3 != 0) log.fixes[i].altitude_ft.reset();
  }
  const SmoothTrack some = smooth(log, k_frame, k_antenna);
  EXPECT_NEAR(some.states[61].height_ft, orbit(61.0).height_ft, 3.0 * some.states[61].height_sd_ft);
  for (Fix& fix : log.fixes) fix.altitude_ft.reset();
  const SmoothTrack none = smooth(log, k_frame, k_antenna);
  EXPECT_GT(none.states[61].height_sd_ft, 1000.0);
  EXPECT_NEAR(none.states[61].along_ft, orbit(61.0).along_ft, 3.0 * none.states[61].place_sd_ft);
}

TEST(Smooth, RecordedSpeedHelpsSparseLogs) {
  TrackLog log = record(orbit, 120.0, 5.0, 12);
  const double without_sd_fps = smooth(log, k_frame, k_antenna).states[10].speed_sd_fps;
  for (Fix& fix : log.fixes) {
    const double t = fix.time_unix_s - 1.7e9;
    const double along = speed_along(orbit, t);
    const double cross = (orbit(t + 0.01).cross_ft - orbit(t - 0.01).cross_ft) / 0.02;
    fix.groundspeed_kt = std::hypot(along, cross) / k_fps_per_knot;
    fix.course_true_deg = wrap_360_deg(270.0 + std::atan2(cross, along) / k_radians_per_degree);
  }
  const SmoothTrack track = smooth(log, k_frame, k_antenna);
  EXPECT_LT(track.states[10].speed_sd_fps, 0.5 * without_sd_fps);
  EXPECT_NEAR(track.states[10].along_fps, speed_along(orbit, 50.0), 3.0 * track.states[10].speed_sd_fps);
}

TEST(Smooth, SurvivesBrokenTimesAndPlaces) {
  EXPECT_TRUE(smooth({}, k_frame, k_antenna).states.empty());
  TrackLog log = record(orbit, 30.0, 1.0, 13);
  log.fixes[10].time_unix_s -= 20.0;  // backwards
  log.fixes[20].time_unix_s = log.fixes[19].time_unix_s;
  log.fixes[25].place.latitude_deg = std::nan("");
  const SmoothTrack track = smooth(log, k_frame, k_antenna);
  ASSERT_EQ(track.states.size(), log.fixes.size());
  for (const TrackState& s : track.states) {
    EXPECT_TRUE(std::isfinite(s.along_ft) && std::isfinite(s.height_ft) && std::isfinite(s.place_sd_ft));
  }
}

TEST(Smooth, BetweenFixesTheCubicIsExactForACubic) {
  SmoothTrack track;
  // along = t^3 on [0, 2]: value and slope at both ends.
  TrackState a, b;
  b.time_unix_s = 2.0;
  b.along_ft = 8.0;
  b.along_fps = 12.0;
  track.states = {a, b};
  EXPECT_NEAR(track.at(1.5).along_ft, 3.375, 1e-12);
  EXPECT_NEAR(track.at(1.5).along_fps, 6.75, 1e-12);
  EXPECT_EQ(track.at(-1.0).time_unix_s, 0.0);
  EXPECT_EQ(track.at(9.0).along_ft, 8.0);
}

}  // namespace
}  // namespace glidewright

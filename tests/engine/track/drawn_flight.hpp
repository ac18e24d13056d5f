#pragma once
// Flights drawn leg by leg, for tests: speed, bank and climb as told, carried by the wind, recorded with
// noise.

#include <algorithm>
#include <cmath>
#include <random>
#include <vector>

#include "engine/track/log.hpp"
#include "engine/track/runway.hpp"
#include "engine/units/units.hpp"

namespace glidewright::drawn {

/// Stamp of the first fix.
inline constexpr double k_first_unix_s = 1.7e9;
inline constexpr double k_step_s = 0.05;

struct Leg {
  double lasts_s = 0.0;
  double speed_kt = 0.0;  ///< true airspeed at the end of the leg, reached evenly
  double climb_fps = 0.0;
  double bank_deg = 0.0;  ///< right positive, rolled to at 13 degrees a second
};

struct Start {
  double along_ft = 0.0;
  double cross_ft = 0.0;
  double height_ft = 0.0;
  double heading_from_runway_deg = 0.0;
  double speed_kt = 0.0;
};

struct Wind {
  double along_fps = 0.0;  ///< of the air, in the landing direction
  double cross_fps = 0.0;
};

struct Recorder {
  double step_s = 1.0;
  double place_sd_ft = 1.0;
  double height_sd_ft = 1.6;
  std::uint32_t seed = 1;
};

/// Runs through the legs at 20 Hz. Never below the ground.
inline TrackLog fly(const RunwayFrame& frame, Start start, const std::vector<Leg>& legs, Wind wind = {},
                    Recorder recorder = {}) {
  constexpr double dt = k_step_s;
  std::mt19937 random(recorder.seed);
  std::normal_distribution<double> normal;
  double along = start.along_ft, cross = start.cross_ft, height = start.height_ft;
  double heading = start.heading_from_runway_deg * k_radians_per_degree,
         speed = start.speed_kt * k_fps_per_knot;
  double bank = 0.0, t = 0.0, next_fix = 0.0;
  TrackLog log;
  for (const Leg& leg : legs) {
    const double slope = (leg.speed_kt * k_fps_per_knot - speed) / leg.lasts_s;
    for (double in_leg = 0.0; in_leg < leg.lasts_s - dt / 2; in_leg += dt, t += dt) {
      if (t >= next_fix - 1e-6) {
        next_fix += recorder.step_s;
        Fix fix;
        fix.time_unix_s = k_first_unix_s + t;
        fix.place = frame.to_geodetic(
            {along + recorder.place_sd_ft * normal(random), cross + recorder.place_sd_ft * normal(random)});
        fix.altitude_ft = frame.point_elevation_ft() + 4.0 + height + recorder.height_sd_ft * normal(random);
        log.fixes.push_back(fix);
      }
      bank += std::clamp(leg.bank_deg - bank, -13.0 * dt, 13.0 * dt);
      speed += slope * dt;
      if (speed > 1.0) heading += k_gravity_fps2 * std::tan(bank * k_radians_per_degree) / speed * dt;
      const bool flew = height > 0.0;
      height = std::max(height + leg.climb_fps * dt, 0.0);
      const bool rolls = height <= 0.0;  // wheels do not drift
      if (flew && rolls) heading = 0.0;  // and are put down straight
      along += (speed * std::cos(heading) + (rolls ? 0.0 : wind.along_fps)) * dt;
      cross += (speed * std::sin(heading) + (rolls ? 0.0 : wind.cross_fps)) * dt;
    }
  }
  return log;
}

/// The start shifted so that the approach ends on the centreline, with the wheels on the ground, that far
/// beyond the point.
inline Start aimed(const RunwayFrame& frame, Start start, const std::vector<Leg>& approach, double along_ft,
                   Wind wind = {}) {
  constexpr double k_high_ft = 1e5;  // never reaches the ground on the way
  start.height_ft = k_high_ft;
  std::vector<Leg> legs = approach;
  legs.push_back({1.0, approach.back().speed_kt});
  double lasts_s = 0.0;
  for (const Leg& leg : approach) lasts_s += std::round(leg.lasts_s / k_step_s) * k_step_s;
  // Two fixes: where the approach begins and where it ends.
  const TrackLog dry =
      fly(frame, start, legs, wind, {.step_s = lasts_s, .place_sd_ft = 0.0, .height_sd_ft = 0.0});
  const RunwayPoint end = frame.to_runway(dry.fixes.back().place);
  start.along_ft += along_ft - end.along_ft;
  start.cross_ft -= end.cross_ft;
  // A foot below the ground: rounding must not leave the wheels above it.
  start.height_ft = k_high_ft + frame.point_elevation_ft() + 3.0 - *dry.fixes.back().altitude_ft;
  return start;
}

inline std::vector<Leg> operator+(std::vector<Leg> a, const std::vector<Leg>& b) {
  a.insert(a.end(), b.begin(), b.end());
  return a;
}

/// Seconds to turn through an angle at a bank and speed, roll-in and roll-out aside.
inline double turn_s(double angle_deg, double speed_kt, double bank_deg) {
  return angle_deg * k_radians_per_degree * speed_kt * k_fps_per_knot /
         (k_gravity_fps2 * std::tan(bank_deg * k_radians_per_degree));
}

/// Climb that gives up one foot of energy height for so many feet of air while the speed changes evenly.
inline double climb_at_ratio_fps(double from_kt, double to_kt, double lasts_s, double ratio) {
  const double mean_fps = (from_kt + to_kt) / 2.0 * k_fps_per_knot;
  const double slowing_fps2 = (from_kt - to_kt) * k_fps_per_knot / lasts_s;
  return -mean_fps / ratio + mean_fps * slowing_fps2 / k_gravity_fps2;
}

/// A pattern flown square: downwind, power off abeam, base turn, base, final turn, final, flare. Seconds, so
/// that spacing and length follow from speed.
struct Circuit {
  double pattern_kt = 85.0;
  double glide_kt = 68.0;
  double bank_deg = 28.0;
  double past_abeam_s = 18.0;
  double base_s = 12.0;
  double final_s = 22.0;
  double air_ratio = 9.0;  ///< air flown for a foot of energy height
  double side = 1.0;       ///< 1 left traffic, -1 right

  std::vector<Leg> legs() const {
    const double turn = turn_s(90.0, glide_kt, bank_deg);
    const double sink = climb_at_ratio_fps(glide_kt, glide_kt, 1.0, air_ratio);
    const double slow_s = past_abeam_s / 2.0;
    return {{30.0, pattern_kt},
            {slow_s, glide_kt, climb_at_ratio_fps(pattern_kt, glide_kt, slow_s, air_ratio)},
            {past_abeam_s - slow_s, glide_kt, sink},
            {turn, glide_kt, sink, -side * bank_deg},
            {base_s, glide_kt, sink, 0.0},
            {turn, glide_kt, sink, -side * bank_deg},
            {final_s, glide_kt, sink, 0.0},
            {5.0, glide_kt - 5.0, sink / 3.0}};
  }
  /// When the roll into the base turn begins, seconds after the start.
  double base_turn_s() const { return 30.0 + past_abeam_s; }
  Start start() const { return {0.0, 0.0, 0.0, 180.0, pattern_kt}; }
  std::vector<Leg> rollout() const { return {{3.0, glide_kt - 12.0}, {15.0, 10.0}, {20.0, 5.0}}; }
};

}  // namespace glidewright::drawn

#pragma once
// Point-mass landings with known touchdown, wider than good flying: short and long floats, flown on or held
// off, coasting, braking, touch-and-goes. Shares no code and no formula with the model under test.

#include <algorithm>
#include <cmath>
#include <random>
#include <string>
#include <vector>

#include "engine/debrief/touchdown.hpp"

namespace glidewright::testing {

/// Everything a landing is made of. Ranges: common practice for two- and four-seat trainers, no source.
struct LandingRecipe {
  double stall_kt = 47.0;
  double headwind_10m_kt = 5.0;
  double gust_kt = 1.0;      ///< sd, 3 s
  double updraft_fps = 0.0;  ///< sd, 1 s; down to the wheels
  double approach_over_stall = 1.35;
  double approach_sink_fps = 14.0;
  double approach_deceleration_kt_s = 0.0;
  double flare_time_s = 2.5;  ///< flare height over sink
  double hold_off_ft = 2.0;   ///< negative: flown on, no hold-off
  double hold_off_sink_fps = 0.2;
  double touchdown_over_stall = 1.1;
  double settle_fps2 = 4.0;
  double drag_over_weight = 0.1;  ///< at 1.2 stall speeds, in the float
  double ground_drag_share =
      0.65;  ///< nose down, of that in the float at the same speed, rolling friction not counted
  double nose_held_s = 1.0;
  double braking_after_s = 3.5;  ///< beyond 60: never
  double braking_kt_s = 3.0;
  double power_after_s = 1e3;  ///< touch-and-go
  double slope_percent = 0.0;
  double bounce_ft = 0.0;
  double nose_lowering_s = 1.5;
  double rolling_pitch_deg = 2.0;
};

inline constexpr double k_simulated_start_unix_s = 1.78e9;

struct TruePoint {
  double time_s = 0.0;
  double along_ft = 0.0;
  double height_ft = 0.0;
  double groundspeed_fps = 0.0;
  double airspeed_fps = 0.0;
  double pitch_deg = 0.0;
};

struct SimulatedLanding {
  LandingRecipe recipe;
  std::vector<TruePoint> path;  ///< each 0.05 s
  double touchdown_s = 0.0;
  double touchdown_along_ft = 0.0;
  double float_s = 0.0;  ///< from 6 ft to the wheels

  TruePoint at(double time_s) const {
    const double i =
        std::clamp((time_s - path.front().time_s) / 0.05, 0.0, static_cast<double>(path.size() - 1));
    const auto k = std::min(static_cast<std::size_t>(i), path.size() - 2);
    const double q = i - static_cast<double>(k);
    const auto mix = [q](double a, double b) { return a + q * (b - a); };
    const TruePoint &a = path[k], &b = path[k + 1];
    return {time_s,
            mix(a.along_ft, b.along_ft),
            mix(a.height_ft, b.height_ft),
            mix(a.groundspeed_fps, b.groundspeed_fps),
            mix(a.airspeed_fps, b.airspeed_fps),
            mix(a.pitch_deg, b.pitch_deg)};
  }
};

class Dice {
 public:
  explicit Dice(unsigned seed) : engine_(seed) {}
  double uniform(double low, double high) { return low + (high - low) * unit_(engine_); }
  double normal(double mean, double sd) { return mean + sd * normal_(engine_); }
  double lognormal(double median, double log_sd) { return median * std::exp(log_sd * normal_(engine_)); }
  bool chance(double p) { return unit_(engine_) < p; }

 private:
  std::mt19937 engine_;
  std::uniform_real_distribution<double> unit_;
  std::normal_distribution<double> normal_;
};

inline LandingRecipe random_recipe(Dice& dice) {
  LandingRecipe r;
  r.stall_kt = dice.uniform(42.0, 52.0);
  r.headwind_10m_kt = std::clamp(dice.normal(4.0, 6.0), -8.0, 20.0);
  r.gust_kt = dice.uniform(0.0, 2.0);
  r.updraft_fps = dice.uniform(0.0, 2.0);
  r.approach_over_stall = dice.chance(0.2) ? dice.uniform(1.5, 1.8) : dice.uniform(1.22, 1.5);
  r.approach_sink_fps = dice.uniform(8.0, 19.0);
  r.approach_deceleration_kt_s = dice.normal(0.1, 0.4);
  r.flare_time_s = dice.uniform(1.8, 3.2);
  const bool flown_on = dice.chance(0.25);  // never fast: the nose wheel would touch first
  if (flown_on) r.approach_over_stall = std::min(r.approach_over_stall, 1.4);
  r.hold_off_ft = flown_on ? dice.uniform(-8.0, -2.0) : dice.lognormal(1.6, 0.7);
  r.hold_off_sink_fps = dice.uniform(0.05, 0.5);
  r.touchdown_over_stall = std::clamp(dice.normal(1.13, 0.10), 0.92, 1.4);
  r.settle_fps2 = dice.uniform(2.0, 6.0);
  r.drag_over_weight = dice.uniform(0.085, 0.13);
  r.ground_drag_share = dice.uniform(0.45, 0.8);
  r.nose_held_s = dice.lognormal(0.9, 0.7);
  r.braking_after_s = dice.chance(0.2) ? 1e3 : dice.lognormal(3.5, 0.6);
  r.braking_kt_s = dice.uniform(1.0, 5.5);
  if (dice.chance(0.15)) r.power_after_s = dice.uniform(3.0, 7.0);
  r.slope_percent = dice.uniform(-0.8, 0.8);
  if (dice.chance(0.1)) r.bounce_ft = dice.uniform(0.3, 1.5);
  return r;
}

/// Nose above the horizon. Lift coefficient 1.9 at the stall, 0.085 a degree, full flap: common practice, no
/// source.
inline double attitude_deg(double over_stall, double sink_fps, double airspeed_fps) {
  return 1.9 / (over_stall * over_stall) / 0.085 - 11.5 - 57.3 * sink_fps / airspeed_fps;
}

/// Flies one recipe from 45 s before the flare to a stop, lift-off or 60 s after the wheels.
inline SimulatedLanding fly(const LandingRecipe& r, Dice& dice) {
  constexpr double k_step = 0.05, k_kt = k_fps_per_knot;
  SimulatedLanding landing{r, {}, 0.0, 0.0, 0.0};
  const double flare_ft = std::max(r.flare_time_s * r.approach_sink_fps, 8.0);
  double t = 0.0, x = 0.0, h = flare_ft + 35.0 * r.approach_sink_fps, sink = r.approach_sink_fps, gust = 0.0,
         updraft = 0.0;
  const auto wind = [&](double height) {
    return r.headwind_10m_kt * k_kt * std::pow(std::max(height, 6.0) / 33.0, 1.0 / 7.0);
  };
  double ground =
      (r.approach_over_stall * r.stall_kt + 10.0 * r.approach_deceleration_kt_s) * k_kt - wind(100.0);
  double below_6ft_s = -1.0, settle_sink = -1.0;
  bool down = false;
  double pitch = 0.0;
  while (true) {
    gust += -gust * k_step / 3.0 + r.gust_kt * k_kt * std::sqrt(2.0 * k_step / 3.0) * dice.normal(0.0, 1.0);
    updraft +=
        -updraft * k_step / 1.0 + r.updraft_fps * std::sqrt(2.0 * k_step / 1.0) * dice.normal(0.0, 1.0);
    const double air = ground + wind(h) + gust;
    const double over_stall = std::max(air, 1.0) / (r.stall_kt * k_kt);
    // Parasite drag with the square of speed, induced with its inverse; about equal at 1.2 stall speeds,
    // flaps down.
    const double drag = r.drag_over_weight * k_gravity_fps2 *
                        (0.55 * std::pow(over_stall / 1.2, 2.0) + 0.45 * std::pow(1.2 / over_stall, 2.0));
    // Attitude in the air: angle of attack from the lift that is needed, and the path.
    if (!down) pitch = attitude_deg(over_stall, sink, air);
    const double lowered =
        down ? std::clamp((t - landing.touchdown_s - r.nose_held_s) / r.nose_lowering_s, 0.0, 1.0) : 0.0;
    landing.path.push_back({t, x, h, ground, air, pitch + lowered * (r.rolling_pitch_deg - pitch)});
    double acceleration = 0.0;
    if (!down) {
      if (h > flare_ft) {
        // Pitch holds the airspeed: the ground speed follows the wind's loss with height slowly.
        const double wanted = (r.approach_over_stall * r.stall_kt -
                               r.approach_deceleration_kt_s * std::max(0.0, 10.0 - (h - flare_ft) / sink)) *
                              k_kt;
        acceleration = std::clamp(0.3 * (wanted - air), -4.0, 4.0);
      } else {
        const double fade = std::clamp((h - std::max(r.hold_off_ft, 0.0)) / flare_ft, 0.0, 1.0);
        // Rising air tilts the lift forward.
        acceleration = -drag * (1.0 - fade * fade) + k_gravity_fps2 * updraft / air;
        if (settle_sink < 0.0 && over_stall <= r.touchdown_over_stall && h < r.hold_off_ft + 1.0)
          settle_sink = sink;
        if (settle_sink >= 0.0) {
          sink = std::min(sink + r.settle_fps2 * k_step, 6.0);
        } else {
          const double wanted = std::max((h - r.hold_off_ft) / r.flare_time_s, 0.0) + r.hold_off_sink_fps;
          sink += (wanted - sink) * k_step / 0.4 + dice.normal(0.0, 0.12);
        }
      }
      h -= (sink - 0.3 * updraft * std::min(h / 20.0, 1.0)) * k_step;  // the pilot takes out most of it
      if (below_6ft_s < 0.0 && h < 6.0) below_6ft_s = t;
      if (h <= 0.0) {
        const double part = k_step + h / std::max(sink, 0.01);
        landing.touchdown_s = t + part;
        landing.touchdown_along_ft = x + ground * part;
        landing.float_s = landing.touchdown_s - below_6ft_s;
        h = 0.0;
        down = true;
      }
    } else {
      const double since = t - landing.touchdown_s;
      h = r.bounce_ft > 0.0 && since < 1.2 ? r.bounce_ft * std::max(std::sin(3.14159 * since / 1.2), 0.0)
                                           : 0.0;
      const double nose_down = std::clamp((since - r.nose_held_s) / 1.5, 0.0, 1.0);
      // No induced drag once the wings carry nothing; the wheels roll at 0.035 of the weight instead.
      const double rolling =
          r.ground_drag_share * r.drag_over_weight * k_gravity_fps2 * std::pow(over_stall / 1.2, 2.0) +
          0.035 * k_gravity_fps2;
      acceleration = -drag * (1.0 - nose_down) * std::min(1.0, over_stall * over_stall) - rolling * nose_down;
      if (since > r.braking_after_s)
        acceleration -= r.braking_kt_s * k_kt * std::clamp((since - r.braking_after_s) / 0.8, 0.0, 1.0);
      if (since > r.power_after_s) {
        acceleration = 3.2 * k_kt * std::clamp((since - r.power_after_s) / 2.0, -1.0, 1.0);
        if (over_stall > 1.15) h = std::max(h, 0.0) + 8.0 * k_step, down = true;
      }
      if (since > 60.0) break;
      if (since > r.power_after_s && over_stall > 1.2) break;
    }
    ground = std::max(ground + acceleration * k_step, 3.0);
    x += ground * k_step;
    t += k_step;
  }
  return landing;
}

/// Receiver noise, each number unlike those of the reference flights' device.
struct Receiver {
  double wander_m, wander_memory_s, white_m;
  double height_bias_m, height_wander_m, height_memory_s, height_white_m;
  double speed_white_kt;
};

inline Receiver random_receiver(Dice& dice) {
  return {dice.uniform(1.0, 2.0), dice.uniform(30.0, 90.0), dice.uniform(0.2, 0.45),
          dice.normal(0.0, 6.0),  dice.uniform(1.5, 3.5),   dice.uniform(60.0, 200.0),
          dice.uniform(0.3, 0.7), dice.uniform(0.08, 0.16)};
}

class Wander {
 public:
  Wander(double sd, double memory_s, Dice& dice)
      : sd_(sd), memory_s_(memory_s), value_(dice.normal(0.0, sd)) {}
  double step(double elapsed_s, Dice& dice) {
    const double keep = std::exp(-elapsed_s / memory_s_);
    return value_ = keep * value_ + sd_ * std::sqrt(1.0 - keep * keep) * dice.normal(0.0, 1.0);
  }

 private:
  double sd_, memory_s_, value_;
};

enum class GroundspeedColumn { absent, recorded };

/// The landing as a log. Its touchdown lies at `truth.touchdown_along_ft - shift_ft` of the frame.
inline TrackLog record(const SimulatedLanding& truth, const RunwayFrame& frame, double rate_hz,
                       double shift_ft, GroundspeedColumn column, Dice& dice) {
  const Receiver device = random_receiver(dice);
  Wander east(device.wander_m, device.wander_memory_s, dice), north = east;
  Wander height(device.height_wander_m, device.height_memory_s, dice);
  TrackLog log;
  const double phase_s = dice.uniform(0.0, 1.0 / rate_hz), last_s = truth.path.back().time_s;
  const double metre = 1.0 / k_metres_per_foot;
  for (double t = phase_s; t < last_s; t += 1.0 / rate_hz) {
    const TruePoint point = truth.at(t);
    Fix fix;
    fix.time_unix_s = k_simulated_start_unix_s + t;
    const double along = point.along_ft - shift_ft;
    const double noisy_along =
        along + metre * (east.step(1.0 / rate_hz, dice) + dice.normal(0.0, device.white_m));
    const double cross = metre * (north.step(1.0 / rate_hz, dice) + dice.normal(0.0, device.white_m));
    fix.place = frame.to_geodetic({noisy_along, cross});
    const double altitude_ft = frame.point_elevation_ft() + along * truth.recipe.slope_percent / 100.0 +
                               point.height_ft + 4.1 +
                               metre * (device.height_bias_m + height.step(1.0 / rate_hz, dice) +
                                        dice.normal(0.0, device.height_white_m));
    fix.altitude_ft = std::round(altitude_ft * 3.048) / 3.048;  // written to 0.1 m
    if (column == GroundspeedColumn::recorded)
      fix.groundspeed_kt = std::round(10.0 * (point.groundspeed_fps / k_fps_per_knot +
                                              dice.normal(0.0, device.speed_white_kt))) /
                           10.0;
    log.fixes.push_back(fix);
  }
  return log;
}

/// What a panel wrote beside it once a second, by a clock of its own: barometer with lag and with the
/// ground's effect on its port, airspeed with a position error, pitch with a hand on the elevator.
inline std::vector<PanelSample> record_panel(const SimulatedLanding& truth, const RunwayFrame& frame,
                                             double shift_ft, Dice& dice) {
  std::vector<PanelSample> panel;
  const double clock_s = dice.uniform(-0.3, 0.3), lag_s = dice.uniform(0.1, 0.7);
  const double bias_ft = dice.normal(0.0, 20.0), port_ft = dice.uniform(-2.0, 6.0);
  const double airspeed_bias_kt = dice.normal(0.0, 1.0), pitch_white_deg = dice.uniform(0.05, 0.3);
  const double wander_s = dice.uniform(30.0, 90.0), hand_s = dice.uniform(0.8, 2.5);
  Wander pressure(dice.uniform(1.0, 3.0), wander_s, dice);
  Wander hand(dice.uniform(0.2, 0.8), hand_s, dice);
  for (double t = 1.0; t < truth.path.back().time_s; t += 1.0) {
    const TruePoint point = truth.at(t), seen = truth.at(t - lag_s);
    PanelSample sample;
    sample.time_unix_s = k_simulated_start_unix_s + t + clock_s;
    sample.pressure_altitude_ft = std::round(
        frame.point_elevation_ft() + (point.along_ft - shift_ft) * truth.recipe.slope_percent / 100.0 +
        seen.height_ft + bias_ft + port_ft * std::exp(-seen.height_ft / 15.0) + pressure.step(1.0, dice));
    sample.indicated_airspeed_kt =
        std::round(10.0 * (point.airspeed_fps / k_fps_per_knot + airspeed_bias_kt + dice.normal(0.0, 0.4))) /
        10.0;
    sample.pitch_deg =
        std::round(10.0 * (point.pitch_deg + hand.step(1.0, dice) + dice.normal(0.0, pitch_white_deg))) /
        10.0;
    panel.push_back(sample);
  }
  return panel;
}

}  // namespace glidewright::testing

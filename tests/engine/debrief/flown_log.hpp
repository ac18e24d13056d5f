#pragma once
// A track log of an approach that the engine flew: plan -> flight -> log -> debrief, with nothing else in
// between.

#include <algorithm>
#include <cmath>
#include <random>

#include "engine/technique/approach.hpp"
#include "engine/track/log.hpp"
#include "engine/track/runway.hpp"

namespace glidewright::test {

struct LoggedFlight {
  TrackLog log;
  Approach approach;
};

/// The approach with 40 s of downwind before abeam and a roll-out behind it, once a second, with white noise.
inline LoggedFlight log_of(const Airplane& airplane, const Conditions& conditions, const Technique& technique,
                           const RunwayFrame& frame, unsigned seed, const TurbulentAir& air = {}) {
  LoggedFlight flight;
  flight.approach = fly(airplane, conditions, technique, {}, {0.05, Trace::every_decision}, air);
  std::mt19937 random(seed);
  std::normal_distribution<double> noise(0.0, 1.0);
  constexpr double start_unix_s = 1'770'000'000.0, antenna_ft = 4.0, before_s = 40.0;
  const auto add = [&](double time_s, double along, double cross, double height) {
    Fix fix;
    fix.time_unix_s = start_unix_s + before_s + time_s;
    fix.place = frame.to_geodetic({along + 1.0 * noise(random), cross + 1.0 * noise(random)});
    fix.altitude_ft = frame.point_elevation_ft() + height + antenna_ft + 1.6 * noise(random);
    flight.log.fixes.push_back(fix);
  };
  const Moment& abeam = flight.approach.abeam;
  const double downwind_fps = abeam.groundspeed_kt * k_fps_per_knot;
  for (double t = -before_s; t < 0.0; t += 1.0) add(t, -t * downwind_fps, abeam.cross_ft, abeam.height_ft);

  add(0.0, abeam.along_ft, abeam.cross_ft, abeam.height_ft);
  double next_s = 1.0;
  const auto& trace = flight.approach.trace;
  for (std::size_t i = 0; i + 1 < trace.size(); ++i) {
    while (next_s < trace[i + 1].time_s && next_s >= trace[i].time_s) {
      const double share = (next_s - trace[i].time_s) / (trace[i + 1].time_s - trace[i].time_s);
      const auto mix = [&](double Moment::*field) {
        return trace[i].*field + share * (trace[i + 1].*field - trace[i].*field);
      };
      add(next_s, mix(&Moment::along_ft), mix(&Moment::cross_ft), mix(&Moment::height_ft));
      next_s += 1.0;
    }
  }
  // The speed goes as before while the nose is up, more slowly on three wheels, and then the brakes come: a
  // log does not show the contact itself.
  const Moment& down = *flight.approach.touchdown;
  std::uniform_real_distribution<double> nose_up(0.5, 2.0), rolls_free(1.0, 4.0);
  const double nose_down_s = nose_up(random), brakes_s = nose_down_s + rolls_free(random);
  const auto slowing_kt_per_s = [&](double t) { return t < nose_down_s ? 1.9 : t < brakes_s ? 1.3 : 3.2; };
  constexpr double step_s = 0.05;
  double rolled_s = 0.0, stop_ft = down.along_ft, speed_fps = down.groundspeed_kt * k_fps_per_knot;
  while (speed_fps > 0.0) {
    for (; next_s <= down.time_s + rolled_s; next_s += 1.0) add(next_s, stop_ft, down.cross_ft, 0.0);
    const double slower_fps = std::max(0.0, speed_fps - slowing_kt_per_s(rolled_s) * k_fps_per_knot * step_s);
    stop_ft += 0.5 * (speed_fps + slower_fps) * step_s;
    speed_fps = slower_fps;
    rolled_s += step_s;
  }
  for (int still = 0; still < 20; ++still, next_s += 1.0) add(next_s, stop_ft, down.cross_ft, 0.0);
  flight.log.format = "gpx";
  return flight;
}

}  // namespace glidewright::test

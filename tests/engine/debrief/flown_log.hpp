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
  const Moment& down = *flight.approach.touchdown;
  constexpr double slowing_fps2 = 2.5 * k_fps_per_knot;
  const double speed_fps = down.groundspeed_kt * k_fps_per_knot;
  for (; next_s < down.time_s + speed_fps / slowing_fps2; next_s += 1.0) {
    const double t = std::max(0.0, next_s - down.time_s);
    add(next_s, down.along_ft + speed_fps * t - 0.5 * slowing_fps2 * t * t, down.cross_ft, 0.0);
  }
  const double stop_ft = down.along_ft + 0.5 * speed_fps * speed_fps / slowing_fps2;
  for (int still = 0; still < 20; ++still, next_s += 1.0) add(next_s, stop_ft, down.cross_ft, 0.0);
  flight.log.format = "gpx";
  return flight;
}

}  // namespace glidewright::test

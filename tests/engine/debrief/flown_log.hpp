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

/// Mean over the last two seconds in the air, in which the rough air moves the speed too.
inline double slowed_in_the_float_kt_per_s(const Approach& approach) {
  const Moment& down = *approach.touchdown;
  const auto earlier = std::find_if(approach.trace.begin(), approach.trace.end(),
                                    [&](const Moment& moment) { return moment.time_s >= down.time_s - 2.0; });
  const double speed_lost_kt = earlier->groundspeed_kt - down.groundspeed_kt;
  return std::clamp(speed_lost_kt / (down.time_s - earlier->time_s), 1.2, 3.0);
}

/// The approach with 40 s of downwind before abeam and a roll-out behind it, with white noise.
inline LoggedFlight log_of(const Airplane& airplane, const Conditions& conditions, const Technique& technique,
                           const RunwayFrame& frame, unsigned seed, const TurbulentAir& air = {},
                           double fixes_per_s = 1.0) {
  LoggedFlight flight;
  flight.approach = fly(airplane, conditions, technique, {}, {0.05, Trace::every_decision}, air);
  std::mt19937 random(seed);
  std::normal_distribution<double> noise(0.0, 1.0);
  constexpr double start_unix_s = 1'770'000'000.0, antenna_ft = 4.0, before_s = 40.0;
  const double interval_s = 1.0 / fixes_per_s;
  const auto add = [&](double time_s, double along, double cross, double height) {
    Fix fix;
    fix.time_unix_s = start_unix_s + before_s + time_s;
    fix.place = frame.to_geodetic({along + 1.0 * noise(random), cross + 1.0 * noise(random)});
    fix.altitude_ft = frame.point_elevation_ft() + height + antenna_ft + 1.6 * noise(random);
    flight.log.fixes.push_back(fix);
  };
  const Moment& abeam = flight.approach.abeam;
  const double downwind_fps = abeam.groundspeed_kt * k_fps_per_knot;
  for (double t = -before_s; t < -0.5 * interval_s; t += interval_s)
    add(t, -t * downwind_fps, abeam.cross_ft, abeam.height_ft);

  add(0.0, abeam.along_ft, abeam.cross_ft, abeam.height_ft);
  double next_s = interval_s;
  const auto& trace = flight.approach.trace;
  for (std::size_t i = 0; i + 1 < trace.size(); ++i) {
    while (next_s < trace[i + 1].time_s && next_s >= trace[i].time_s) {
      const double share = (next_s - trace[i].time_s) / (trace[i + 1].time_s - trace[i].time_s);
      const auto mix = [&](double Moment::*field) {
        return trace[i].*field + share * (trace[i + 1].*field - trace[i].*field);
      };
      add(next_s, mix(&Moment::along_ft), mix(&Moment::cross_ft), mix(&Moment::height_ft));
      next_s += interval_s;
    }
  }
  // The speed goes as before while the nose is up, more slowly on three wheels, and then the brakes come: a
  // log does not show the contact itself.
  const Moment& down = *flight.approach.touchdown;
  std::uniform_real_distribution<double> nose_up(0.5, 2.0), rolls_free(1.0, 4.0);
  const double nose_down_s = nose_up(random), brakes_s = nose_down_s + rolls_free(random);
  const double float_kt_per_s = slowed_in_the_float_kt_per_s(flight.approach);
  const auto slowing_kt_per_s = [&](double t) {
    return t < nose_down_s ? float_kt_per_s : t < brakes_s ? 0.7 * float_kt_per_s : 3.2;
  };
  constexpr double step_s = 0.05;
  double rolled_s = 0.0, stop_ft = down.along_ft, speed_fps = down.groundspeed_kt * k_fps_per_knot;
  while (speed_fps > 0.0) {
    for (; next_s <= down.time_s + rolled_s; next_s += interval_s) add(next_s, stop_ft, down.cross_ft, 0.0);
    const double slower_fps = std::max(0.0, speed_fps - slowing_kt_per_s(rolled_s) * k_fps_per_knot * step_s);
    stop_ft += 0.5 * (speed_fps + slower_fps) * step_s;
    speed_fps = slower_fps;
    rolled_s += step_s;
  }
  for (double still_s = 0.0; still_s < 20.0; still_s += interval_s, next_s += interval_s)
    add(next_s, stop_ft, down.cross_ft, 0.0);
  flight.log.format = "gpx";
  return flight;
}

}  // namespace glidewright::test

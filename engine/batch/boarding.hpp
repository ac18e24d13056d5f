#pragma once
// Approaches into lanes and out of them.
//
// A row of lanes takes off together and the next one follows when all have landed. Lanes that are refilled
// one by one would never wait, but then some lane is always on base or in the flare and its decisions are
// reckoned for all: on the demonstration's plan that flew a quarter fewer approaches a second.

#include "engine/batch/flown_lanes.hpp"

namespace glidewright {

/// Number of the flight that sits in a lane: cue x count + flight. The last row's empty lanes fly its last
/// flight again.
GLIDEWRIGHT_INLINE std::int64_t job_in(std::int64_t first_job, int lane, std::int64_t jobs) {
  return first_job + lane < jobs ? first_job + lane : jobs - 1;
}

template <class L, int lanes>
GLIDEWRIGHT_INLINE DeviationOf<L> drawn_deviation(const BatchOrder& order, std::int64_t first_job,
                                                  std::int64_t jobs) {
  L uniform[k_draws];
  for (int lane = 0; lane < lanes; ++lane) {
    const std::int64_t flight = order.first + job_in(first_job, lane, jobs) % order.count;
    for (std::uint32_t block = 0; block < k_draws / 4; ++block) {
      const FourRandomWords four = words_of_flight(order.seed, static_cast<std::uint64_t>(flight), block);
      for (int i = 0; i < 4; ++i) set(uniform[4 * block + i], lane, uniform_of(four.word[i]));
    }
  }
  L normal[k_draws];
  for (int pair = 0; pair < k_draws / 2; ++pair) {
    const TwoNormals<L> two = normals_of(uniform[2 * pair], uniform[2 * pair + 1]);
    normal[2 * pair] = two.first;
    normal[2 * pair + 1] = two.second;
  }
  return deviation_of(order.scatter, order.wind_sd_kt, normal);
}

template <class L, int lanes>
GLIDEWRIGHT_INLINE DeviationOf<L> given_deviation(const BatchOrder& order, std::int64_t first_job,
                                                  std::int64_t jobs) {
  constexpr unsigned long values = sizeof(DeviationOf<double>) / sizeof(double);
  static_assert(sizeof(DeviationOf<L>) / sizeof(L) == values);
  DeviationOf<L> deviation;
  for (unsigned long i = 0; i < values; ++i) {
    L value;
    for (int lane = 0; lane < lanes; ++lane) {
      const DeviationOf<double>& from = order.deviations[job_in(first_job, lane, jobs) % order.count];
      double plain;
      __builtin_memcpy(&plain, reinterpret_cast<const char*>(&from) + i * sizeof plain, sizeof plain);
      set(value, lane, static_cast<float>(plain));
    }
    __builtin_memcpy(reinterpret_cast<char*>(&deviation) + i * sizeof(L), &value, sizeof(L));
  }
  return deviation;
}

/// All lanes begin the approaches from `first_job` on.
template <class L, int lanes>
[[gnu::noinline]] void board(const BatchOrder& order, std::int64_t first_job, std::int64_t jobs,
                             UnderWay<L>& way) {
  const DeviationOf<L> deviation = order.deviations ? given_deviation<L, lanes>(order, first_job, jobs)
                                                    : drawn_deviation<L, lanes>(order, first_job, jobs);
  L cue_s;
  for (int lane = 0; lane < lanes; ++lane) {
    set(cue_s, lane, static_cast<float>(order.cues_s[job_in(first_job, lane, jobs) / order.count]));
  }
  way.flight.become(order, deviation);
  way.intent = pilot::intent_of(way.flight, way.technique, deviation, cue_s);
  place_on_downwind(deviation, way);
  if (way.air.rough()) {
    for (int lane = 0; lane < lanes; ++lane) {
      way.air.flight[lane] =
          static_cast<std::uint64_t>(order.first + job_in(first_job, lane, jobs) % order.count);
    }
    begin_in_rough_air(way);
  }
  way.memory = pilot::begin(way.intent, way.state);
  decide_now(way);
  way.last = {};
  reckon_rate_anew(way);
  if (way.air.rough()) {
    way.at_a_tick = true;
    let_the_air_change(way);
  }
}

template <class L>
GLIDEWRIGHT_INLINE void write_down(const LaneLog<L>& log, int lane, FlownOnce& flown) {
  flown.touchdown_ft = static_cast<double>(get(log.touchdown_ft, lane));
  flown.stable = get(log.stable, lane);
  flown.aligned = get(log.aligned, lane);
  flown.base_turn_height_ft = static_cast<double>(get(log.base_turn_height_ft, lane));
  flown.mid_base_height_ft = static_cast<double>(get(log.mid_base_height_ft, lane));
  flown.final_turn_height_ft = static_cast<double>(get(log.final_turn_height_ft, lane));
  flown.half_mile_height_ft = static_cast<double>(get(log.half_mile_height_ft, lane));
  flown.gate_along_ft = static_cast<double>(get(log.gate_along_ft, lane));
}

/// Flies the whole order.
template <class L, int lanes>
GLIDEWRIGHT_INLINE void fly_order(const BatchOrder& order) {
  const std::int64_t jobs = order.cue_count * order.count;
  UnderWay<L> way(order);
  for (std::int64_t first_job = 0; first_job < jobs; first_job += lanes) {
    board<L, lanes>(order, first_job, jobs, way);
    while (any(way.log.flying)) fly_on(order.steps_between_ticks, way);
    for (int lane = 0; lane < lanes && first_job + lane < jobs; ++lane) {
      write_down(way.log, lane, order.flown[first_job + lane]);
    }
  }
}

}  // namespace glidewright

#pragma once
// Approaches into lanes and out of them.

#include "engine/batch/flown_lanes.hpp"

namespace glidewright {

/// Every lane value of a struct that holds nothing else: the fresh one where `which`, else the one that is
/// there.
template <class L, class S>
GLIDEWRIGHT_INLINE void exchange(const Mask<L>& which, const S& fresh, S& there) {
  static_assert(sizeof(S) % sizeof(L) == 0);
  L from, to;
  for (unsigned long i = 0; i < sizeof(S); i += sizeof(L)) {
    __builtin_memcpy(&from, reinterpret_cast<const char*>(&fresh) + i, sizeof(L));
    __builtin_memcpy(&to, reinterpret_cast<const char*>(&there) + i, sizeof(L));
    to = choose(which, from, to);
    __builtin_memcpy(reinterpret_cast<char*>(&there) + i, &to, sizeof(L));
  }
}

/// Numbers of the flights in each lane: which cue, which luck.
template <int lanes>
struct Passengers {
  std::int64_t job[lanes];  ///< cue x count + flight, -1 for nobody
};

template <class L, int lanes>
GLIDEWRIGHT_INLINE DeviationOf<L> drawn_deviation(const BatchOrder& order,
                                                  const Passengers<lanes>& passengers) {
  L uniform[k_draws];
  for (int lane = 0; lane < lanes; ++lane) {
    const std::uint64_t flight = static_cast<std::uint64_t>(
        order.first + (passengers.job[lane] < 0 ? 0 : passengers.job[lane] % order.count));
    for (std::uint32_t block = 0; block < k_draws / 4; ++block) {
      const FourRandomWords four = words_of_flight(order.seed, flight, block);
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
GLIDEWRIGHT_INLINE DeviationOf<L> given_deviation(const BatchOrder& order,
                                                  const Passengers<lanes>& passengers) {
  DeviationOf<L> deviation;
  static_assert(sizeof(DeviationOf<L>) / sizeof(L) == sizeof(DeviationOf<double>) / sizeof(double));
  L* into = &deviation.idle_s;
  for (int lane = 0; lane < lanes; ++lane) {
    if (passengers.job[lane] < 0) continue;
    const double* from = &order.deviations[passengers.job[lane] % order.count].idle_s;
    for (unsigned long i = 0; i < sizeof(DeviationOf<double>) / sizeof(double); ++i) {
      set(into[i], lane, static_cast<float>(from[i]));
    }
  }
  return deviation;
}

/// The lanes in `which` begin the approaches of their passengers.
template <class L, int lanes>
[[gnu::noinline]] void board(const BatchOrder& order, const Mask<L>& which,
                             const Passengers<lanes>& passengers, UnderWay<L>& way) {
  UnderWay<L> fresh;
  const DeviationOf<L> deviation =
      order.deviations ? given_deviation<L>(order, passengers) : drawn_deviation<L>(order, passengers);
  L cue_s = 0.0;
  for (int lane = 0; lane < lanes; ++lane) {
    if (passengers.job[lane] >= 0) {
      set(cue_s, lane, static_cast<float>(order.cues_s[passengers.job[lane] / order.count]));
    }
  }
  fresh.flight.order = &order;
  fresh.flight.wind.profile = &order.wind;
  fresh.flight.wind.extra = {-k_fps_per_knot * deviation.headwind_kt,
                             -order.wind.mirror * k_fps_per_knot * deviation.crosswind_kt};
  fresh.flight.drag_factor = 1.0 + deviation.glide_relative;
  fresh.intent = pilot::intent_of(fresh.flight, order.technique, deviation, cue_s);
  place_on_downwind(deviation, fresh);
  fresh.memory = pilot::begin(fresh.intent, fresh.state);
  fresh.log.flying = true;
  decide_now(fresh);
  way.flight.order = fresh.flight.order;
  way.flight.wind.profile = fresh.flight.wind.profile;
  way.intent.technique = fresh.intent.technique;
  exchange<L>(which, fresh.flight.wind.extra, way.flight.wind.extra);
  way.flight.drag_factor = choose(which, fresh.flight.drag_factor, way.flight.drag_factor);
  exchange<L>(which, static_cast<const IntentLanes<L>&>(fresh.intent),
              static_cast<IntentLanes<L>&>(way.intent));
  exchange<L>(which, fresh.memory, way.memory);
  exchange<L>(which, fresh.state, way.state);
  exchange<L>(which, fresh.log, way.log);
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
  std::int64_t next = 0;
  Passengers<lanes> passengers;
  for (int lane = 0; lane < lanes; ++lane) passengers.job[lane] = -1;
  UnderWay<L> way;
  way.log.flying = false;
  int empty = lanes;
  // Lanes wait for company before they board: approaches that begin together stay in the same phase, and what
  // no lane needs is skipped.
  constexpr int company = lanes > 1 ? lanes / 2 : 1;
  while (next < jobs || empty < lanes) {
    if (next < jobs && (empty >= company || empty == lanes)) {
      Mask<L> which = false;
      for (int lane = 0; lane < lanes && next < jobs; ++lane) {
        if (passengers.job[lane] >= 0) continue;
        passengers.job[lane] = next++;
        set(which, lane, true);
        --empty;
      }
      board<L, lanes>(order, which, passengers, way);
    }
    const Mask<L> flew = way.log.flying;
    fly_on(way);
    if (!any(flew && !way.log.flying)) continue;
    for (int lane = 0; lane < lanes; ++lane) {
      if (passengers.job[lane] < 0 || get(way.log.flying, lane)) continue;
      write_down(way.log, lane, order.flown[passengers.job[lane]]);
      passengers.job[lane] = -1;
      ++empty;
    }
  }
}

}  // namespace glidewright

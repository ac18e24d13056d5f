#pragma once
// The batch integrator: many approaches side by side, one to a lane, a lane getting the next approach when
// its own has ended. Compiled once for each instruction set (flown_*.cpp).
//
// The equations and the decisions are the reference's own, as is the order of things: decide, look for the
// next awaited moment, fly to it or to the next tick of the 5 Hz clock, note what was passed on the way,
// decide again. Every lane keeps its own clock, so what a flight does depends on nothing but its own numbers.

#include "engine/batch/lane_flight.hpp"
#include "engine/batch/philox.hpp"
#include "engine/technique/decisions.hpp"

namespace glidewright {

inline constexpr double k_decision_s = 0.2;
inline constexpr double k_longest_approach_s = 400.0;
inline constexpr double k_half_mile_ft = 0.5 * 1852.0 / 0.3048;

/// Clock and log of the approach in each lane.
template <class L>
struct LaneLog {
  Mask<L> flying = false;
  L time_s = 0.0;
  L start_s = 0.0;
  L ticks = 0.0;  ///< of the 5 Hz clock since the start
  L base_turn_height_ft = 0.0;
  L mid_base_height_ft = 0.0;
  L final_turn_height_ft = 0.0;
  L half_mile_height_ft = 0.0;
  L gate_along_ft = 0.0;
  Mask<L> gate_passed = false;
  Mask<L> stable = false;
  Mask<L> aligned = false;
  L touchdown_ft = k_never_down_ft;
};

/// All approaches under way.
template <class L>
struct UnderWay {
  LaneFlight<L> flight;
  PilotIntentOf<L> intent;
  PilotMemoryOf<L> memory;
  FlightStateOf<L> state;
  LaneLog<L> log;
};

template <class L>
[[gnu::noinline]] void rates(const UnderWay<L>& way, const FlightStateOf<L>& state, FlightStateOf<L>& rate) {
  rate = equations::derivative(way.flight, state, equations::over_ground(way.flight, state),
                               way.memory.commands, static_cast<ForcesOf<L>*>(nullptr));
}

/// Steady on downwind at pattern speed, wings level, crabbed for the wind, at or before abeam.
template <class L>
GLIDEWRIGHT_INLINE void place_on_downwind(const DeviationOf<L>& deviation, UnderWay<L>& way) {
  const TechniqueNumbers& technique = *way.intent.technique;
  FlightStateOf<L>& state = way.state;
  state = {};
  state.cross_ft = -(technique.spacing_ft + deviation.spacing_ft);
  state.height_ft = technique.pattern_height_ft + deviation.height_ft;
  state.speed_fps = way.flight.true_fps(L(technique.pattern_speed_kt));
  const LocalWindOf<L> wind = way.flight.wind.at(state.height_ft);
  const L drift_sine = limited(wind.cross_fps / state.speed_fps, L(-0.9), L(0.9));
  const L drift_rad = arctangent(drift_sine / square_root(1.0 - drift_sine * drift_sine));
  state.heading_rad = 3.14159265358979323846 + drift_rad;
  way.log = {};
  way.log.start_s = smaller(L(0.0), way.intent.idle_time_s);
  way.log.time_s = way.log.start_s;
  way.log.ticks = 1.0;
  state.along_ft = equations::over_ground(way.flight, state).ground.along_fps * way.log.start_s;
}

template <class L>
GLIDEWRIGHT_INLINE void decide_now(UnderWay<L>& way) {
  PilotMemoryOf<L>& memory = way.memory;
  LaneLog<L>& log = way.log;
  const Mask<L> was_idle = memory.idle;
  const L phase_before = memory.phase;
  const OverGroundOf<L> over = equations::over_ground(way.flight, way.state);
  pilot::decide(way.intent, way.flight, way.state, over, log.time_s, memory);
  const Mask<L> closes_the_lever = memory.idle && !was_idle;
  if (any(closes_the_lever)) {
    ForcesOf<L> level;
    equations::derivative(way.flight, way.state, over, memory.commands, &level);
    // What held the height until now, fading from here on.
    way.state.thrust_over_weight =
        choose(closes_the_lever, level.drag_over_weight, way.state.thrust_over_weight);
  }
  const Mask<L> enters = memory.phase != phase_before;
  if (any(enters)) {
    log.base_turn_height_ft =
        choose(enters && phase_before == Phase::downwind, way.state.height_ft, log.base_turn_height_ft);
    log.final_turn_height_ft =
        choose(enters && memory.phase == Phase::final_turn, way.state.height_ft, log.final_turn_height_ft);
  }
}

template <class L>
GLIDEWRIGHT_INLINE FlightStateOf<L> between(const FlightStateOf<L>& a, const FlightStateOf<L>& b,
                                            const L& share) {
  const auto mix = [&](const L& from, const L& to) __attribute__((always_inline)) {
    return from + share * (to - from);
  };
  return {mix(a.along_ft, b.along_ft),   mix(a.cross_ft, b.cross_ft),
          mix(a.height_ft, b.height_ft), mix(a.speed_fps, b.speed_fps),
          mix(a.path_rad, b.path_rad),   mix(a.heading_rad, b.heading_rad),
          mix(a.bank_rad, b.bank_rad),   mix(a.flap_deg, b.flap_deg),
          mix(a.slip, b.slip),           mix(a.thrust_over_weight, b.thrust_over_weight)};
}

/// Share of the step at which a value passes through zero.
template <class L>
GLIDEWRIGHT_INLINE L passing(const L& from, const L& to) {
  return choose(from == to, L(0.0), from / (from - to));
}

/// Height within the step as a cubic through both ends and their rates: a straight line is feet off in a
/// float.
template <class L>
GLIDEWRIGHT_INLINE L touchdown_share(const FlightStateOf<L>& before, const FlightStateOf<L>& after,
                                     const L& step_s) {
  const L h0 = before.height_ft, h1 = after.height_ft;
  const L r0 = before.speed_fps * sine_cosine_of_small(before.path_rad).sine * step_s;
  const L r1 = after.speed_fps * sine_cosine_of_small(after.path_rad).sine * step_s;
  // h0 + r0 u + b u^2 + a u^3 with the same end and rate.
  const L a = 2.0 * (h0 - h1) + r0 + r1, b = 3.0 * (h1 - h0) - 2.0 * r0 - r1;
  L low = 0.0, high = 1.0;
  for (int round = 0; round < 20; ++round) {
    const L u = 0.5 * (low + high);
    const Mask<L> above = h0 + u * (r0 + u * (b + u * a)) > 0.0;
    low = choose(above, u, low);
    high = choose(above, high, u);
  }
  return 0.5 * (low + high);
}

/// Key points crossed within the step, interpolated in it.
template <class L>
GLIDEWRIGHT_INLINE void watch(const FlightStateOf<L>& before, const L& step_s, UnderWay<L>& way) {
  const TechniqueNumbers& technique = *way.intent.technique;
  const FlightStateOf<L>& after = way.state;
  LaneLog<L>& log = way.log;
  const L phase = way.memory.phase;
  const L half_spacing = -0.5 * technique.spacing_ft;
  const Mask<L> mid_base = phase != Phase::downwind && log.mid_base_height_ft == 0.0 &&
                           before.cross_ft < half_spacing && after.cross_ft >= half_spacing;
  const Mask<L> half_mile = phase == Phase::final_leg && log.half_mile_height_ft == 0.0 &&
                            before.along_ft < -k_half_mile_ft && after.along_ft >= -k_half_mile_ft;
  const L gate_ft = technique.gate_height_ft;
  const Mask<L> gate = phase >= Phase::final_turn && !log.gate_passed && before.height_ft > gate_ft &&
                       after.height_ft <= gate_ft;
  const Mask<L> touches = log.flying && before.height_ft > 0.0 && after.height_ft <= 0.0;
  if (!any(mid_base || half_mile || gate || touches)) return;
  if (any(mid_base)) {
    const L share = passing(before.cross_ft - half_spacing, after.cross_ft - half_spacing);
    log.mid_base_height_ft = choose(mid_base, before.height_ft + share * (after.height_ft - before.height_ft),
                                    log.mid_base_height_ft);
  }
  if (any(half_mile)) {
    const L share = passing(before.along_ft + k_half_mile_ft, after.along_ft + k_half_mile_ft);
    log.half_mile_height_ft = choose(
        half_mile, before.height_ft + share * (after.height_ft - before.height_ft), log.half_mile_height_ft);
  }
  if (any(gate)) {
    const L share = passing(before.height_ft - gate_ft, after.height_ft - gate_ft);
    const FlightStateOf<L> there = between(before, after, share);
    const OverGroundOf<L> over = equations::over_ground(way.flight, there);
    const Mask<L> stable =
        pilot::stable_at_gate(way.intent, way.flight, there, over, log.time_s + share * step_s, way.memory);
    log.gate_along_ft = choose(gate, there.along_ft, log.gate_along_ft);
    log.stable = choose_mask(gate, stable, log.stable);
    log.gate_passed = log.gate_passed || gate;
  }
  if (any(touches)) {
    const L share = touchdown_share(before, after, step_s);
    log.touchdown_ft =
        choose(touches, before.along_ft + share * (after.along_ft - before.along_ft), log.touchdown_ft);
    log.aligned = choose_mask(touches, phase >= Phase::final_turn, log.aligned);
    log.flying = log.flying && !touches;
  }
}

/// One step of the classic fourth-order Runge-Kutta method, each lane with its own length.
template <class L>
GLIDEWRIGHT_INLINE FlightStateOf<L> stepped(const UnderWay<L>& way, const FlightStateOf<L>& k1,
                                            const L& step_s) {
  using equations::moved;
  FlightStateOf<L> k2, k3, k4;
  const L half = 0.5 * step_s;
  rates(way, moved(way.state, k1, half), k2);
  rates(way, moved(way.state, k2, half), k3);
  rates(way, moved(way.state, k3, step_s), k4);
  FlightStateOf<L> next = moved(way.state, k1, step_s * (1.0 / 6.0));
  next = moved(next, k2, step_s * (1.0 / 3.0));
  next = moved(next, k3, step_s * (1.0 / 3.0));
  return moved(next, k4, step_s * (1.0 / 6.0));
}

/// To the next awaited moment or tick, and the decisions there.
template <class L>
GLIDEWRIGHT_INLINE void fly_on(UnderWay<L>& way) {
  LaneLog<L>& log = way.log;
  FlightStateOf<L> k1;
  rates(way, way.state, k1);
  const L tick_s = log.start_s + log.ticks * k_decision_s;
  const L end_s = pilot::next_awaited(
      way.intent, way.state, equations::over_ground(way.flight, way.state), log.time_s, tick_s,
      way.memory, [&]() __attribute__((always_inline)) { return k1.speed_fps; });
  const L step_s = end_s - log.time_s;
  const FlightStateOf<L> before = way.state;
  way.state = stepped(way, k1, step_s);
  watch(before, step_s, way);
  log.time_s = end_s;
  log.ticks = choose(end_s >= tick_s, log.ticks + 1.0, log.ticks);
  log.flying = log.flying && log.time_s < k_longest_approach_s;
  decide_now(way);
}

}  // namespace glidewright

#pragma once
// The batch integrator: many approaches side by side, one to a lane, a lane getting the next approach when
// its own has ended. Compiled once for each instruction set (flown_*.cpp).
//
// The equations and the decisions are the reference's own, as is the order of things: decide, look for the
// next awaited moment, fly to it or to the next tick of the 5 Hz clock, note what was passed on the way,
// decide again. Every lane keeps its own clock, so what a flight does depends on nothing but its own numbers.

#include "engine/batch/lane_flight.hpp"
#include "engine/batch/luck.hpp"
#include "engine/glide/turbulence.hpp"
#include "engine/technique/clock.hpp"
#include "engine/technique/decisions.hpp"

namespace glidewright {

/// Clock and log of the approach in each lane.
template <class L>
struct LaneLog {
  Mask<L> flying = true;
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

/// What the multistep method remembers.
template <class L>
struct LastStep {
  FlightStateOf<L> rate;  ///< at its beginning
  L step_s = 1.0;
  Mask<L> unsteady = true;  ///< the pilot has asked for something else since: the rate has jumped
};

/// Rough air in every lane. A lane's tick is its own, so the random numbers are fetched tick by tick.
template <class L>
struct LaneAir {
  static constexpr int lanes = sizeof(L) / sizeof(float);
  double vertical_sd_fps = 0.0;
  std::uint64_t seed = 1;
  std::uint64_t flight[lanes] = {};
  turbulence::Shaken<L> shaken;
  GustOf<L> change_per_s;
  turbulence::DriftOf<L> drift;

  GLIDEWRIGHT_INLINE bool rough() const { return vertical_sd_fps > 0.0; }
  /// Of each lane's tick `ticks`.
  [[gnu::noinline]] turbulence::Shaken<L> shocks(const L& ticks) const {
    std::uint32_t counter[4][lanes];
    for (int lane = 0; lane < lanes; ++lane) {
      counter[0][lane] = static_cast<std::uint32_t>(flight[lane]);
      counter[1][lane] = static_cast<std::uint32_t>(flight[lane] >> 32);
      counter[2][lane] = turbulence::k_first_block + static_cast<std::uint32_t>(get(ticks, lane));
      counter[3][lane] = 0;
    }
    philox_in_lanes(counter, seed, ticks);
    turbulence::Shaken<L> shocks;
    for (int lane = 0; lane < lanes; ++lane) {
      set(shocks.along, lane, turbulence::shock_of(counter[0][lane]));
      set(shocks.cross, lane, turbulence::shock_of(counter[1][lane]));
      set(shocks.up, lane, turbulence::shock_of(counter[2][lane]));
    }
    return shocks;
  }
};

/// All approaches under way.
template <class L>
struct UnderWay {
  LaneFlight<L> flight;
  TechniqueNumbersOf<L> technique;
  PilotIntentOf<L> intent;
  PilotMemoryOf<L> memory;
  FlightStateOf<L> state;
  OverGroundOf<L> over;   ///< of this state
  FlightStateOf<L> rate;  ///< at this state, under the present commands
  LastStep<L> last;
  FlightStateOf<L> before;  ///< at the beginning of the present step
  L step_s;
  Mask<L> straight_on;  ///< the rate before this step says nothing about it
  L decides_s;          ///< the pilot, next
  Mask<L> at_a_tick;    ///< and then the air changes
  LaneLog<L> log;
  LaneAir<L> air;

  GLIDEWRIGHT_INLINE explicit UnderWay(const BatchOrder& order) : flight(order) {
    air.vertical_sd_fps = order.vertical_gust_sd_fps;
    air.seed = order.seed;
    spread<L>(static_cast<const TechniqueValues<double>&>(order.technique),
              static_cast<TechniqueValues<L>&>(technique));
    static_cast<TechniqueRules&>(technique) = order.technique;
  }
};

/// Steady on downwind at pattern speed, wings level, crabbed for the wind, at or before abeam.
template <class L>
GLIDEWRIGHT_INLINE void place_on_downwind(const DeviationOf<L>& deviation, UnderWay<L>& way) {
  const TechniqueNumbersOf<L>& technique = *way.intent.technique;
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
  way.over = equations::over_ground(way.flight, state);
  state.along_ft = way.over.ground.along_fps * way.log.start_s;
  way.flight.flap_here = way.flight.flap_polar(state.flap_deg);
}

/// From here to the next tick, where one is reached.
template <class L>
[[gnu::noinline]] void let_the_air_change(UnderWay<L>& way) {
  LaneAir<L>& air = way.air;
  const Mask<L>& who = way.at_a_tick;
  const auto take = [&](const L& with, L& value) __attribute__((always_inline)) {
    value = choose(who, with, value);
  };
  const auto scales = turbulence::scales_at(way.state.height_ft);
  turbulence::Shaken<L> shaken = air.shaken;
  turbulence::shake(air.shocks(way.log.ticks), way.state.speed_fps, scales, k_decision_s, shaken);
  take(shaken.along, air.shaken.along);
  take(shaken.cross, air.shaken.cross);
  take(shaken.up, air.shaken.up);
  const GustOf<L> change = turbulence::change_per_s(
      way.flight.gust, turbulence::gust_of(shaken, scales, L(air.vertical_sd_fps)), k_decision_s);
  take(change.along_fps, air.change_per_s.along_fps);
  take(change.cross_fps, air.change_per_s.cross_fps);
  take(change.up_fps, air.change_per_s.up_fps);
  const auto drift = turbulence::drift_through(change, way.over, way.state, way.rate, L(k_decision_s));
  take(drift.speed_fps2, air.drift.speed_fps2);
  take(drift.heading_rad_s, air.drift.heading_rad_s);
  take(drift.path_rad_s, air.drift.path_rad_s);
}

/// The air at the start.
template <class L>
[[gnu::noinline]] void begin_in_rough_air(UnderWay<L>& way) {
  way.air.shaken = way.air.shocks(L(0.0));
  way.flight.gust = turbulence::gust_of(way.air.shaken, turbulence::scales_at(way.state.height_ft),
                                        L(way.air.vertical_sd_fps));
  way.over = equations::over_ground(way.flight, way.state);
}

/// Drag that the closing lever leaves: what held the height until now fades from here on.
template <class L>
[[gnu::noinline]] void close_the_lever(const Mask<L>& who, UnderWay<L>& way) {
  ForcesOf<L> level;
  equations::derivative(way.flight, way.state, way.over, way.memory.commands, &level);
  way.state.thrust_over_weight = choose(who, level.drag_over_weight, way.state.thrust_over_weight);
}

template <class L>
GLIDEWRIGHT_INLINE void decide_now(UnderWay<L>& way) {
  PilotMemoryOf<L>& memory = way.memory;
  LaneLog<L>& log = way.log;
  const Mask<L> was_idle = memory.idle;
  const L phase_before = memory.phase;
  const L vertical_before = memory.commands.vertical;
  const L speed_before = memory.commands.speed_fps;
  const L bank_before = memory.commands.bank_limit_rad;
  pilot::decide(way.intent, way.flight, way.state, way.over, log.time_s, memory);
  const Mask<L> closes = memory.idle && !was_idle;
  if (any(closes)) close_the_lever(closes, way);
  const Mask<L> enters = memory.phase != phase_before;
  if (any(enters)) {
    log.base_turn_height_ft =
        choose(enters && phase_before == Phase::downwind, way.state.height_ft, log.base_turn_height_ft);
    log.final_turn_height_ft =
        choose(enters && memory.phase == Phase::final_turn, way.state.height_ft, log.final_turn_height_ft);
  }
  way.last.unsteady = closes || enters || memory.commands.vertical != vertical_before ||
                      memory.commands.speed_fps != speed_before ||
                      memory.commands.bank_limit_rad != bank_before;
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
                                     const UnderWay<L>& way, const L& step_s) {
  const L h0 = before.height_ft, h1 = after.height_ft;
  const L up_after_fps = way.flight.gust.up_fps,
          up_before_fps = up_after_fps - step_s * way.air.change_per_s.up_fps;
  const L r0 = (before.speed_fps * sine_cosine_of_small(before.path_rad).sine + up_before_fps) * step_s;
  const L r1 = (after.speed_fps * sine_cosine_of_small(after.path_rad).sine + up_after_fps) * step_s;
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
[[gnu::noinline]] void watch(UnderWay<L>& way) {
  const FlightStateOf<L>& before = way.before;
  const L& step_s = way.step_s;
  const TechniqueNumbersOf<L>& technique = *way.intent.technique;
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
    const L share = touchdown_share(before, after, way, step_s);
    log.touchdown_ft =
        choose(touches, before.along_ft + share * (after.along_ft - before.along_ft), log.touchdown_ft);
    log.aligned = choose_mask(touches, phase >= Phase::final_turn, log.aligned);
    log.flying = log.flying && !touches;
  }
}

/// Towards `target` as flap and slip go: at a steady rate, the last of it with a lag of an eighth of a
/// second. Exact, as that lag is shorter than a step.
template <class L>
GLIDEWRIGHT_INLINE L moved_towards(const L& from, const L& target, double rate_per_s, const L& step_s) {
  const double per_s = 8.0, lagging = rate_per_s / per_s;
  const L to_go = magnitude(target - from);
  const L steady_s = limited((to_go - lagging) * (1.0 / rate_per_s), L(0.0), step_s);
  const L left = (to_go - steady_s * rate_per_s) * exponential((steady_s - step_s) * per_s);
  return target + choose(from < target, -left, left);
}

/// Flap and slip after the step.
template <class L>
GLIDEWRIGHT_INLINE void move_flap_and_slip(const L& step_s, const FlightStateOf<L>& before,
                                           UnderWay<L>& way) {
  const CommandsOf<L>& commands = way.memory.commands;
  const Handling& handling = way.flight.handling;
  way.state.flap_deg = before.flap_deg;
  way.state.slip = before.slip;
  // Each lane by itself: whether another one moves its lever must not change what this one does.
  const Mask<L> flap_moves = magnitude(commands.flap_deg - before.flap_deg) > 1e-3;
  if (any(flap_moves)) {
    const L moved_deg = moved_towards(before.flap_deg, commands.flap_deg, handling.flap_rate_deg_s, step_s);
    way.state.flap_deg = choose(flap_moves, moved_deg, before.flap_deg);
    way.flight.flap_here = way.flight.flap_polar(way.state.flap_deg);
  }
  const Mask<L> slip_moves = magnitude(commands.slip - before.slip) > 1e-4;
  if (any(slip_moves)) {
    const L moved = moved_towards(before.slip, commands.slip, handling.slip_rate_per_s, step_s);
    way.state.slip = choose(slip_moves, moved, before.slip);
  }
}

/// Where the step leads at first sight: by the two-step method of Adams and Bashforth, or straight on where
/// the rate has jumped.
template <class L>
[[gnu::noinline]] void foresee(UnderWay<L>& way) {
  using equations::moved;
  const L step_s = way.step_s, last_s = way.last.step_s;
  way.straight_on = way.last.unsteady || step_s > 2.0 * last_s;
  const L back = choose(way.straight_on, L(0.0), -0.5 * step_s * step_s / last_s);
  way.before = way.state;
  way.state = moved(moved(way.before, way.rate, step_s - back), way.last.rate, back);
  if (way.air.rough()) {
    turbulence::drift(way.air.drift, step_s, way.state);
    way.flight.gust = turbulence::changed(way.flight.gust, way.air.change_per_s, step_s);
  }
  move_flap_and_slip(step_s, way.before, way);
}

/// Lanes in which nothing has changed get the rate that they have but for rounding, so it is kept: whether
/// another lane has a new one must not change theirs.
template <class L>
[[gnu::noinline]] void reckon_rate_anew(UnderWay<L>& way) {
  const FlightStateOf<L> anew = equations::derivative(way.flight, way.state, way.over, way.memory.commands,
                                                      static_cast<ForcesOf<L>*>(nullptr));
  const Mask<L> who = way.last.unsteady;
  const auto renew = [&](const L& with, L& rate) __attribute__((always_inline)) {
    rate = choose(who, with, rate);
  };
  renew(anew.along_ft, way.rate.along_ft);
  renew(anew.cross_ft, way.rate.cross_ft);
  renew(anew.height_ft, way.rate.height_ft);
  renew(anew.speed_fps, way.rate.speed_fps);
  renew(anew.path_rad, way.rate.path_rad);
  renew(anew.heading_rad, way.rate.heading_rad);
  renew(anew.bank_rad, way.rate.bank_rad);
  renew(anew.thrust_over_weight, way.rate.thrust_over_weight);
}

// One round to the next awaited moment or tick.
//
// The step, each lane's with its own length: foreseen by the two-step method, then corrected by the mean of
// the rates at both ends, the second of which serves the next step too. Second order, one look at the forces
// a step. Source: Adams-Bashforth and Adams-Moulton pair, predict-evaluate-correct (Hairer, Norsett, Wanner,
// "Solving Ordinary Differential Equations I", ch. III.1).

/// When the pilot decides next, and in how many steps the way there is flown.
template <class L>
[[gnu::noinline]] void look_ahead(double steps, UnderWay<L>& way) {
  LaneLog<L>& log = way.log;
  const L tick_s = log.start_s + log.ticks * k_decision_s;
  way.decides_s = pilot::next_awaited(
      way.intent, way.state, way.over, log.time_s, tick_s,
      way.memory, [&]() __attribute__((always_inline)) { return way.rate.speed_fps; });
  if (way.air.rough()) {
    // In the flare path and sink answer within half a second to air that changes from tick to tick: half
    // steps.
    const L half_way_s = log.time_s + 0.5 * k_decision_s;
    way.decides_s =
        choose(way.memory.flaring && way.decides_s > half_way_s + pilot::k_due_s, half_way_s, way.decides_s);
  }
  way.at_a_tick = way.decides_s >= tick_s;
  log.ticks = choose(way.at_a_tick, log.ticks + 1.0, log.ticks);
  way.step_s = (way.decides_s - log.time_s) * (1.0 / steps);
}

template <class L>
[[gnu::noinline]] void correct(UnderWay<L>& way) {
  using equations::moved;
  way.over = equations::over_ground(way.flight, way.state);
  const FlightStateOf<L> rate = equations::derivative(way.flight, way.state, way.over, way.memory.commands,
                                                      static_cast<ForcesOf<L>*>(nullptr));
  const L flap_deg = way.state.flap_deg, slip = way.state.slip;
  // The rate as a parabola through the last three moments, or as a line through two where it has jumped.
  const L step_s = way.step_s, last_s = way.last.step_s, both_s = step_s + last_s;
  const L back = choose(way.straight_on, L(0.0), -step_s * step_s * step_s / (6.0 * last_s * both_s));
  const L there =
      choose(way.straight_on, 0.5 * step_s, step_s * (2.0 * step_s + 3.0 * last_s) / (6.0 * both_s));
  way.state =
      moved(moved(moved(way.before, way.rate, step_s - there - back), rate, there), way.last.rate, back);
  if (way.air.rough()) turbulence::drift(way.air.drift, step_s, way.state);
  way.state.flap_deg = flap_deg;
  way.state.slip = slip;
  way.last.rate = way.rate;
  way.last.step_s = way.step_s;
  way.last.unsteady = false;
  way.rate = rate;
}

template <class L>
[[gnu::noinline]] void decide_and_look(UnderWay<L>& way) {
  way.log.time_s = way.decides_s;
  way.log.flying = way.log.flying && way.log.time_s < k_longest_approach_s;
  if (way.air.rough()) let_the_air_change(way);
  decide_now(way);
  if (any(way.last.unsteady)) reckon_rate_anew(way);
}

/// Flies to the next decision and takes it.
template <class L>
GLIDEWRIGHT_INLINE void fly_on(int steps, UnderWay<L>& way) {
  look_ahead(static_cast<double>(steps), way);
  for (int step = 0; step < steps; ++step) {
    foresee(way);
    correct(way);
    watch(way);
    way.log.time_s += way.step_s;
  }
  decide_and_look(way);
}

}  // namespace glidewright

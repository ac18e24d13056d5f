#pragma once
// The pilot's decisions, once for the reference and the batch. F, the flight, as in
// engine/glide/equations.hpp.
//
// Each rule first asks who it concerns (a Mask), then what he does about it.

#include "engine/glide/equations.hpp"
#include "engine/technique/glide_seen.hpp"
#include "engine/technique/intent.hpp"

namespace glidewright::pilot {

inline constexpr double k_lowest_flap_change_ft = 350.0;  // landing flap set and settled by about here
inline constexpr double k_slip_out_ft = 100.0;
/// A flap is not taken back: it is set only with this much to spare. Common practice, no source.
inline constexpr double k_flap_spare_ft = 60.0;
inline constexpr double k_steepest_turn_deg = 45.0;
/// Moments nearer than this are the same: the rounding of a clock of floats.
inline constexpr double k_due_s = 1e-4;
inline constexpr double k_glide_lead_kt = 2.0;  // the nose goes down a little before glide speed is reached
inline constexpr double k_short_final_ft = 150.0;

template <class L>
GLIDEWRIGHT_INLINE L turn_bank_rad(const L& bank_deg, const L& deviation_deg) {
  return limited(bank_deg + deviation_deg, L(10.0), L(k_steepest_turn_deg)) * k_radians_per_degree;
}

/// The technique as this pilot flies it today, with the cue at `cue_s` after abeam.
template <class L, class F>
GLIDEWRIGHT_INLINE PilotIntentOf<L> intent_of(const F& flight, const TechniqueNumbersOf<L>& technique,
                                              const DeviationOf<L>& deviation, const L& cue_s) {
  PilotIntentOf<L> intent;
  intent.technique = &technique;
  intent.idle_time_s = technique.idle_s_after_abeam + deviation.idle_s;
  intent.base_turn_time_s = larger(L(0.0), cue_s + deviation.cue_s);
  intent.square_base_rad = (90.0 - technique.base_course_deg) * k_radians_per_degree;
  intent.base_turn_bank_rad = turn_bank_rad(technique.base_turn_bank_deg, deviation.bank_deg);
  intent.final_turn_bank_rad = turn_bank_rad(technique.final_turn_bank_deg, deviation.bank_deg);
  intent.final_turn_bank_limit_rad =
      larger(L(technique.final_turn_bank_limit_deg * k_radians_per_degree), intent.final_turn_bank_rad);
  const SineCosine<L> bank = sine_cosine_of_small(intent.final_turn_bank_rad);
  intent.final_turn_rate_fps2 = k_gravity_fps2 * bank.sine / bank.cosine;
  intent.final_turn_roll_in_s = k_roll_in_begins_s +
                                0.5 * intent.final_turn_bank_rad / flight.handling.roll_rate_limit_rad_s +
                                flight.handling.roll_lag_s - deviation.decision_s;
  intent.downwind_fps = flight.true_fps(technique.downwind_speed_kt + deviation.speed_kt);
  intent.base_fps = flight.true_fps(technique.base_speed_kt + deviation.speed_kt);
  intent.final_fps = flight.true_fps(technique.final_speed_kt + deviation.speed_kt);
  intent.short_final_fps = flight.true_fps(technique.short_final_speed_kt + deviation.speed_kt);
  intent.touchdown_fps = flight.true_fps(technique.touchdown_speed_kt + deviation.touchdown_speed_kt);
  intent.glide_lead_fps = flight.true_fps(L(k_glide_lead_kt));
  constexpr double hand_to_lever_s = 1.0;
  intent.flap_lateness_s = larger(L(0.0), hand_to_lever_s + deviation.flap_s + deviation.decision_s);
  intent.slip_lateness_s = larger(L(0.0), deviation.decision_s);
  intent.eye_relative = deviation.eye_relative;
  intent.eye = eye_numbers<L>(flight, technique);
  return intent;
}

/// Who is at `which` gets to see the next flap step of the technique.
template <class L>
GLIDEWRIGHT_INLINE void look_at_next_flap(const TechniqueNumbersOf<L>& technique, const Mask<L>& which,
                                          NextFlap<L>& flap) {
  flap.there = choose_mask(which, flap.number < static_cast<double>(technique.flap_count), flap.there);
  for (int i = 0; i < technique.flap_count; ++i) {
    const FlapStepNumbers& step = technique.flaps[i];
    const Mask<L> here = which && flap.number == static_cast<double>(i);
    flap.setting_deg = choose(here, L(step.setting_deg), flap.setting_deg);
    flap.when = choose(here, L(step.when), flap.when);
    flap.height_ft = choose(here, L(step.height_ft), flap.height_ft);
    flap.only_if_high_enough = choose_mask(here, Mask<L>(step.only_if_high_enough), flap.only_if_high_enough);
  }
}

template <class L>
GLIDEWRIGHT_INLINE PilotMemoryOf<L> begin(const PilotIntentOf<L>& intent, const FlightStateOf<L>& start) {
  PilotMemoryOf<L> memory;
  look_at_next_flap(*intent.technique, Mask<L>(true), memory.flap);
  memory.base_course_rad = intent.square_base_rad;
  memory.commands.height_ft = start.height_ft;
  memory.commands.speed_fps = start.speed_fps;
  memory.commands.bank_limit_rad = 0.26;
  memory.commands.vertical = CommandsOf<L>::Vertical::hold_height;
  return memory;
}

/// Sine and cosine of the course error stand for it: wings level on a course is asked within a few degrees.
template <class L>
GLIDEWRIGHT_INLINE Mask<L> on_course(const GroundVelocityOf<L>& ground, const L& sine, const L& cosine,
                                     double cosine_within) {
  return ground.along_fps * cosine + ground.cross_fps * sine > ground.speed_fps * cosine_within;
}

/// Room that a turn onto the centreline at this bank takes up, the roll-in and the drift included.
template <class L>
GLIDEWRIGHT_INLINE L room_for_final_turn_ft(const PilotIntentOf<L>& intent, const FlightStateOf<L>& state,
                                            const OverGroundOf<L>& over) {
  const L seconds_per_rad = state.speed_fps / intent.final_turn_rate_fps2;
  return seconds_per_rad * (state.speed_fps * (1.0 - over.heading.cosine) +
                            over.wind.cross_fps * magnitude(state.heading_rad)) +
         over.ground.cross_fps * intent.final_turn_roll_in_s;
}

/// Where the eye, with its own error, sees the glide end.
template <class L, class F>
GLIDEWRIGHT_INLINE L eye(const PilotIntentOf<L>& intent, const F& flight, const FlightStateOf<L>& state,
                         const OverGroundOf<L>& over, const EyeConfigurationOf<L>& configuration) {
  const L seen = glide_seen_to_end_ft(flight, state, over, intent.eye, *intent.technique, configuration);
  return seen + intent.eye_relative * larger(L(0.0), seen - state.along_ft);
}

template <class L>
GLIDEWRIGHT_INLINE void enter(const Mask<L>& who, double phase, const L& time_s, PilotMemoryOf<L>& memory) {
  memory.phase = choose(who, L(phase), memory.phase);
  memory.phase_since_s = choose(who, time_s, memory.phase_since_s);
}

template <class L>
GLIDEWRIGHT_INLINE void hold_base_course(const Mask<L>& who, PilotMemoryOf<L>& memory) {
  const SineCosine<L> course = sine_cosine(memory.base_course_rad);
  memory.commands.sin_course = choose(who, course.sine, memory.commands.sin_course);
  memory.commands.cos_course = choose(who, course.cosine, memory.commands.cos_course);
}

/// Cuts the corner when the eye says short, squares it off when it says long: the path is the first of the
/// means.
template <class L, class F>
GLIDEWRIGHT_INLINE void steer_base(const Mask<L>& who, const PilotIntentOf<L>& intent, const F& flight,
                                   const FlightStateOf<L>& state, const OverGroundOf<L>& over,
                                   PilotMemoryOf<L>& memory) {
  constexpr double least_base_ft = 300.0;
  constexpr double share_per_decision = 0.15;
  constexpr double most_rad = 25.0 * k_radians_per_degree;
  const L room_ft = -state.cross_ft;
  const Mask<L> steering = who && room_ft >= least_base_ft;
  if (!any(steering)) return;
  const TechniqueNumbersOf<L>& technique = *intent.technique;
  const L short_ft =
      technique.planned_touchdown_ft -
      eye(intent, flight, state, over, EyeConfigurationOf<L>{L(technique.landing_flap_deg), L(0.0)});
  const L steered =
      limited(memory.base_course_rad - share_per_decision * short_ft / larger(room_ft, L(least_base_ft)),
              intent.square_base_rad - most_rad, intent.square_base_rad + most_rad);
  memory.base_course_rad = choose(steering, steered, memory.base_course_rad);
  hold_base_course(steering, memory);
}

template <class L, class F>
GLIDEWRIGHT_INLINE void decide_path(const PilotIntentOf<L>& intent, const F& flight,
                                    const FlightStateOf<L>& state, const OverGroundOf<L>& over,
                                    const L& time_s, PilotMemoryOf<L>& memory) {
  CommandsOf<L>& commands = memory.commands;
  const GroundVelocityOf<L>& ground = over.ground;
  const L bank = magnitude(state.bank_rad);
  const Mask<L> turns_base = memory.phase == Phase::downwind && time_s >= intent.base_turn_time_s - k_due_s;
  if (any(turns_base)) {
    enter(turns_base, Phase::base_turn, time_s, memory);
    hold_base_course(turns_base, memory);
    commands.bank_limit_rad = choose(turns_base, L(0.0), commands.bank_limit_rad);
  }
  // The airplane answers to the ailerons a little later.
  const Mask<L> rolls_in =
      commands.bank_limit_rad == 0.0 && time_s >= memory.phase_since_s + k_roll_in_begins_s - k_due_s;
  if (any(rolls_in)) {
    const L bank_rad =
        choose(memory.phase == Phase::base_turn, intent.base_turn_bank_rad, intent.final_turn_bank_limit_rad);
    commands.bank_limit_rad = choose(rolls_in, bank_rad, commands.bank_limit_rad);
  }
  constexpr double wings_level_rad = 0.1, cosine_on_course = 0.99755100025;  // of 0.07 rad
  const Mask<L> rolled_out = memory.phase == Phase::base_turn && bank < wings_level_rad &&
                             on_course(ground, commands.sin_course, commands.cos_course, cosine_on_course);
  if (any(rolled_out)) {
    enter(rolled_out, Phase::base, time_s, memory);
    commands.bank_limit_rad = choose(rolled_out, L(0.35), commands.bank_limit_rad);
  }
  if (intent.technique->path_by_eye) {
    const Mask<L> on_base = memory.phase == Phase::base;
    if (any(on_base)) steer_base(on_base, intent, flight, state, over, memory);
  }
  const Mask<L> before_final = memory.phase == Phase::base_turn || memory.phase == Phase::base;
  if (any(before_final)) {
    constexpr double cosine_turned_in = 0.540302305868;  // of 1 rad
    const L room = -state.cross_ft + intent.technique->final_turn_cross_shift_ft;
    const Mask<L> turns_final =
        before_final && on_course(ground, commands.sin_course, commands.cos_course, cosine_turned_in) &&
        room <= room_for_final_turn_ft(intent, state, over) + 0.5;
    enter(turns_final, Phase::final_turn, time_s, memory);
    commands.lateral = choose(turns_final, L(CommandsOf<L>::Lateral::capture_centreline), commands.lateral);
    commands.bank_limit_rad = choose(turns_final, L(0.0), commands.bank_limit_rad);
  }
  const Mask<L> turning_final = memory.phase == Phase::final_turn;
  if (any(turning_final)) {
    constexpr double lined_up_ft = 120.0, cosine_lined_up = 0.990215996213;  // of 0.14 rad
    const Mask<L> lined_up = turning_final && bank < 0.17 &&
                             on_course(ground, L(0.0), L(1.0), cosine_lined_up) &&
                             magnitude(state.cross_ft) < lined_up_ft;
    enter(lined_up, Phase::final_leg, time_s, memory);
  }
}

/// Speed asked for in this phase, true.
template <class L>
GLIDEWRIGHT_INLINE L wanted_speed_fps(const PilotIntentOf<L>& intent, const PilotMemoryOf<L>& memory,
                                      const FlightStateOf<L>& state) {
  const L on_final = choose(state.height_ft < k_short_final_ft, intent.short_final_fps, intent.final_fps);
  const L before = choose(memory.phase >= Phase::base_turn, intent.base_fps, intent.downwind_fps);
  return choose(memory.phase >= Phase::final_turn, on_final, before);
}

template <class L>
GLIDEWRIGHT_INLINE L flare_height_ft(const L& lead_s, const L& sink_fps) {
  return limited(lead_s * sink_fps, L(8.0), L(60.0));
}
template <class L>
GLIDEWRIGHT_INLINE L flare_height_ft(const PilotIntentOf<L>& intent, const L& sink_fps) {
  return flare_height_ft(L(intent.technique->flare_lead_s), sink_fps);
}

template <class L>
GLIDEWRIGHT_INLINE void begin_flare(const Mask<L>& who, const L& height_ft, const L& sink_fps,
                                    const L& touchdown_fps, CommandsOf<L>& commands) {
  commands.vertical = choose(who, L(CommandsOf<L>::Vertical::flare), commands.vertical);
  commands.flare_height_ft = choose(who, height_ft, commands.flare_height_ft);
  commands.flare_sink_fps = choose(who, larger(sink_fps, L(2.0)), commands.flare_sink_fps);
  commands.touchdown_speed_fps = choose(who, touchdown_fps, commands.touchdown_speed_fps);
}

template <class L>
GLIDEWRIGHT_INLINE void decide_speed(const PilotIntentOf<L>& intent, const FlightStateOf<L>& state,
                                     const OverGroundOf<L>& over, const L& time_s, PilotMemoryOf<L>& memory) {
  using Vertical = typename CommandsOf<L>::Vertical;
  CommandsOf<L>& commands = memory.commands;
  memory.idle = memory.idle || time_s >= intent.idle_time_s - k_due_s;
  commands.idle = memory.idle;
  commands.speed_fps = wanted_speed_fps(intent, memory, state);
  const Mask<L> noses_down =
      memory.idle && !memory.gliding && state.speed_fps <= commands.speed_fps + intent.glide_lead_fps + 0.01;
  memory.gliding = memory.gliding || noses_down;
  commands.vertical = choose(noses_down, L(Vertical::hold_speed), commands.vertical);
  const L sink_fps = -state.speed_fps * over.path.sine;
  const Mask<L> flares =
      memory.gliding && !memory.flaring && state.height_ft <= flare_height_ft(intent, sink_fps) + 0.05;
  if (any(flares)) {
    memory.flaring = memory.flaring || flares;
    begin_flare(flares, state.height_ft, sink_fps, intent.touchdown_fps, commands);
  }
}

template <class L>
GLIDEWRIGHT_INLINE Mask<L> flap_place_reached(const PilotIntentOf<L>& intent, const FlightStateOf<L>& state,
                                              const L& time_s, const PilotMemoryOf<L>& memory) {
  using When = FlapStepNumbers::When;
  const NextFlap<L>& flap = memory.flap;
  const L phase_wanted =
      choose(flap.when == When::wings_level_base, L(Phase::base),
             choose(flap.when == When::final_turn, L(Phase::final_turn), L(Phase::final_leg)));
  const Mask<L> in_phase =
      memory.phase >= phase_wanted && memory.phase_since_s + intent.flap_lateness_s <= time_s + k_due_s;
  const Mask<L> at_height = memory.idle && state.height_ft <= flap.height_ft;
  return flap.there && choose_mask(flap.when == When::at_height, at_height, in_phase);
}

template <class L, class F>
GLIDEWRIGHT_INLINE void decide_flaps(const PilotIntentOf<L>& intent, const F& flight,
                                     const FlightStateOf<L>& state, const OverGroundOf<L>& over,
                                     const L& time_s, PilotMemoryOf<L>& memory) {
  NextFlap<L>& flap = memory.flap;
  Mask<L> moves = !memory.flaring && flap_place_reached(intent, state, time_s, memory);
  if (!any(moves)) return;
  const Mask<L> asks_the_eye = moves && flap.only_if_high_enough;
  if (any(asks_the_eye)) {
    // Too late to settle: a low student leaves the flap up.
    const Mask<L> too_late = asks_the_eye && state.height_ft < k_lowest_flap_change_ft;
    flap.there = flap.there && !too_late;
    const L seen = eye(intent, flight, state, over, EyeConfigurationOf<L>{flap.setting_deg, L(0.0)});
    moves = moves && !too_late &&
            !(asks_the_eye && seen < intent.technique->planned_touchdown_ft + k_flap_spare_ft);
    if (!any(moves)) return;
  }
  memory.commands.flap_deg = choose(moves, flap.setting_deg, memory.commands.flap_deg);
  memory.flap_moved_s = choose(moves, time_s, memory.flap_moved_s);
  flap.number = choose(moves, flap.number + 1.0, flap.number);
  look_at_next_flap(*intent.technique, moves, flap);
}

template <class L, class F>
GLIDEWRIGHT_INLINE void decide_slip(const PilotIntentOf<L>& intent, const F& flight,
                                    const FlightStateOf<L>& state, const OverGroundOf<L>& over,
                                    const L& time_s, PilotMemoryOf<L>& memory) {
  const TechniqueNumbersOf<L>& technique = *intent.technique;
  if (!technique.slip_at_heights && !technique.slip_when_high) return;
  const Mask<L> wings_level =
      !memory.flaring && memory.phase == Phase::final_leg && magnitude(state.bank_rad) < 0.14;
  Mask<L> slips = false;
  if (technique.slip_at_heights) {
    slips = wings_level && state.height_ft <= technique.slip_in_ft && state.height_ft > technique.slip_out_ft;
  } else {
    const Mask<L> allowed = wings_level && memory.commands.flap_deg <= technique.slip_flap_limit_deg &&
                            state.height_ft > k_slip_out_ft + choose(memory.slipping, L(0.0), L(60.0));
    if (any(allowed)) {
      const L flap_deg = choose(memory.flap.there, technique.last_flap_deg, memory.commands.flap_deg);
      const L over_ft = eye(intent, flight, state, over, EyeConfigurationOf<L>{flap_deg, L(0.0)}) -
                        technique.planned_touchdown_ft;
      const Mask<L> wants = over_ft > choose(memory.slipping, L(0.0), L(k_slip_when_beyond_ft));
      const Mask<L> another = (wants && !memory.slipping) || (!wants && memory.slipping);
      memory.slip_change_since_s =
          choose(allowed, choose(another, smaller(memory.slip_change_since_s, time_s), L(k_never_s)),
                 memory.slip_change_since_s);
      const Mask<L> late_enough = time_s - memory.slip_change_since_s >= intent.slip_lateness_s - k_due_s;
      slips = allowed && choose_mask(late_enough, wants, memory.slipping);
    }
  }
  memory.slipping = choose_mask(memory.flaring, memory.slipping, slips);
  memory.commands.slip = choose(slips, L(1.0), L(0.0));
}

/// Takes every decision that is due at this moment.
template <class L, class F>
GLIDEWRIGHT_INLINE void decide(const PilotIntentOf<L>& intent, const F& flight, const FlightStateOf<L>& state,
                               const OverGroundOf<L>& over, const L& time_s, PilotMemoryOf<L>& memory) {
  decide_path(intent, flight, state, over, time_s, memory);
  decide_speed(intent, state, over, time_s, memory);
  decide_flaps(intent, flight, state, over, time_s, memory);
  decide_slip(intent, flight, state, over, time_s, memory);
}

/// Earliest awaited moment after now, `latest_s` if there is none before that: so that cues fall between
/// decisions where they belong. `slowing_fps2`: dV/dt now, asked for only while slowing down to glide speed.
template <class L, class Slowing>
GLIDEWRIGHT_INLINE L next_awaited(const PilotIntentOf<L>& intent, const FlightStateOf<L>& state,
                                  const OverGroundOf<L>& over, const L& time_s, const L& latest_s,
                                  const PilotMemoryOf<L>& memory, const Slowing& slowing_fps2) {
  L earliest = latest_s;
  const auto await = [&](const Mask<L>& who, const L& moment) __attribute__((always_inline)) {
    earliest = choose(who && moment > time_s + k_due_s && moment < earliest, moment, earliest);
  };
  await(!memory.idle, intent.idle_time_s);
  await(memory.phase == Phase::downwind, intent.base_turn_time_s);
  await(memory.commands.bank_limit_rad == 0.0, memory.phase_since_s + k_roll_in_begins_s);

  const GroundVelocityOf<L>& ground = over.ground;
  const Mask<L> nears_centreline = memory.phase == Phase::base && ground.cross_fps > 1.0;
  if (any(nears_centreline)) {
    const L room_ft = -state.cross_ft + intent.technique->final_turn_cross_shift_ft -
                      room_for_final_turn_ft(intent, state, over);
    await(nears_centreline, time_s + room_ft / ground.cross_fps);
  }
  const Mask<L> slows_down = memory.idle && !memory.gliding;
  if (any(slows_down)) {
    const L slowing = slowing_fps2();
    await(slows_down && slowing < -0.1,
          time_s + (state.speed_fps - memory.commands.speed_fps - intent.glide_lead_fps) / -slowing);
  }
  const L sink_fps = -state.speed_fps * over.path.sine;
  const L per_sink = 1.0 / larger(sink_fps, L(1.0));
  const Mask<L> sinks = sink_fps > 1.0;
  await(sinks && memory.gliding && !memory.flaring,
        time_s + (state.height_ft - flare_height_ft(intent, sink_fps)) * per_sink);
  await(sinks && memory.flap.there && memory.flap.when == FlapStepNumbers::When::at_height,
        time_s + (state.height_ft - memory.flap.height_ft) * per_sink);
  return earliest;
}

/// Stable at the gate: bank, line, speed, flap settled, slip out soon, and the eye on the box.
template <class L, class F>
GLIDEWRIGHT_INLINE Mask<L> stable_at_gate(const PilotIntentOf<L>& intent, const F& flight,
                                          const FlightStateOf<L>& state, const OverGroundOf<L>& over,
                                          const L& time_s, const PilotMemoryOf<L>& memory) {
  constexpr double cosine_lined_up = 0.98558476691;  // of 0.17 rad
  const L over_kt = flight.calibrated_kt(state.speed_fps) - intent.technique->final_speed_kt;
  const Mask<L> lined_up =
      magnitude(state.cross_ft) <= 75.0 && on_course(over.ground, L(0.0), L(1.0), cosine_lined_up);
  const Mask<L> banked = magnitude(state.bank_rad) > 15.0 * k_radians_per_degree;
  const Mask<L> flap_settled = time_s - memory.flap_moved_s >= 5.0 - k_due_s;
  // A slip that is in stays for the half of the height down to where it must be out.
  const L seen = eye(intent, flight, state, over,
                     EyeConfigurationOf<L>{memory.commands.flap_deg, 0.5 * memory.commands.slip});
  const Mask<L> spot_on_the_box = seen > -150.0 && seen < 450.0;
  return memory.phase == Phase::final_leg && lined_up && !banked && over_kt >= -5.0 && over_kt <= 10.0 &&
         flap_settled && spot_on_the_box;
}

}  // namespace glidewright::pilot

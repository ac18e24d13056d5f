#include "engine/technique/pilot.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "engine/technique/eye.hpp"

namespace glidewright {
namespace {

constexpr double k_lowest_flap_change_ft = 350.0;  // landing flap set and settled by about here
constexpr double k_slip_out_ft = 100.0;
constexpr double k_steepest_turn_deg = 45.0;
constexpr double k_due_s = 1e-9;
constexpr double k_glide_lead_kt = 2.0;  // the nose goes down a little before glide speed is reached

double base_course_rad(const Technique& technique) {
  return (90.0 - technique.base_course_deg) * k_radians_per_degree;
}

double turn_bank_rad(double bank_deg, const Deviation& deviation) {
  return std::clamp(bank_deg + deviation.bank_deg, 10.0, k_steepest_turn_deg) * k_radians_per_degree;
}

/// Sine and cosine of the course error stand for it: wings level on a course is asked within a few degrees.
bool on_course(const GroundVelocity& ground, double wanted_rad, double within_rad) {
  const double ahead = ground.along_fps * std::cos(wanted_rad) + ground.cross_fps * std::sin(wanted_rad);
  return ahead > ground.speed_fps * std::cos(within_rad);
}

/// Speed asked for in this phase, calibrated.
double wanted_speed_kt(const PilotIntent& intent, const PilotMemory& memory, const FlightState& state) {
  const Technique& technique = *intent.technique;
  double speed = technique.downwind_speed_kt;
  if (memory.phase == Phase::base_turn || memory.phase == Phase::base) speed = technique.base_speed_kt;
  if (memory.phase == Phase::final_turn || memory.phase == Phase::final_leg) {
    speed = state.height_ft < 150.0 ? technique.short_final_speed_kt : technique.final_speed_kt;
  }
  return speed + intent.deviation->speed_kt;
}

/// Room that a turn onto the centreline at this bank takes up, the roll-in and the drift included.
double room_for_final_turn_ft(const PilotIntent& intent, const Flight& flight, const FlightState& state,
                              const GroundVelocity& ground) {
  const double bank = turn_bank_rad(intent.technique->final_turn_bank_deg, *intent.deviation);
  const double rate_rad_s = k_gravity_fps2 * std::tan(bank) / state.speed_fps;
  const double turn_rad = std::abs(state.heading_rad);
  const LocalWind wind = flight.wind.at(state.height_ft);
  const double roll_in_s = 0.5 * bank / flight.handling.roll_rate_limit_rad_s + flight.handling.roll_lag_s;
  return state.speed_fps / rate_rad_s * (1.0 - std::cos(turn_rad)) + wind.cross_fps * turn_rad / rate_rad_s +
         ground.cross_fps * roll_in_s;
}

double eye(const PilotIntent& intent, const Flight& flight, const FlightState& state,
           EyeConfiguration configuration) {
  const double seen = eye_touchdown_ft(flight, state, *intent.technique, configuration);
  const double distance_to_go = std::max(0.0, seen - state.along_ft);
  return seen + intent.deviation->eye_relative * distance_to_go;
}

bool place_reached(const FlapStep& step, const PilotMemory& memory, const FlightState& state) {
  switch (step.when) {
    case FlapStep::When::wings_level_base:
      return memory.phase >= Phase::base;
    case FlapStep::When::final_turn:
      return memory.phase >= Phase::final_turn;
    case FlapStep::When::wings_level_final:
      return memory.phase >= Phase::final_leg;
    case FlapStep::When::at_height:
      return memory.idle && state.height_ft <= step.height_ft;
  }
  return false;
}

double phase_lateness_s(const FlapStep& step, const Deviation& deviation) {
  constexpr double hand_to_lever_s = 1.0;
  return step.when == FlapStep::When::at_height ? 0.0 : std::max(0.0, hand_to_lever_s + deviation.flap_s);
}

void decide_flaps(const PilotIntent& intent, const Flight& flight, const FlightState& state, double time_s,
                  PilotMemory& memory) {
  if (memory.flaps_to_come.empty()) return;
  const FlapStep& step = memory.flaps_to_come.front();
  if (!place_reached(step, memory, state)) return;
  if (step.when != FlapStep::When::at_height &&
      memory.phase_since_s + phase_lateness_s(step, *intent.deviation) > time_s + k_due_s)
    return;
  if (step.only_if_high_enough) {
    if (state.height_ft < k_lowest_flap_change_ft) {
      memory.flaps_to_come.clear();  // too late to settle: a low student leaves the flap up
      return;
    }
    if (eye(intent, flight, state, {step.setting_deg, 0.0}) < intent.technique->planned_touchdown_ft) return;
  }
  memory.commands.flap_deg = step.setting_deg;
  memory.flap_moved_s = time_s;
  memory.flaps_to_come.erase(memory.flaps_to_come.begin());
}

void decide_slip(const PilotIntent& intent, const Flight& flight, const FlightState& state,
                 PilotMemory& memory) {
  const Technique& technique = *intent.technique;
  const bool wings_level = memory.phase == Phase::final_leg && std::abs(state.bank_rad) < 0.14;
  if (technique.slip) {
    memory.slipping = wings_level && state.height_ft <= technique.slip->in_height_ft &&
                      state.height_ft > technique.slip->out_height_ft;
  } else if (technique.slip_when_high) {
    constexpr double start_long_ft = 200.0, stop_long_ft = 60.0;
    const bool allowed = wings_level &&
                         memory.commands.flap_deg <= flight.airplane->handbook.slip_flap_limit_deg &&
                         state.height_ft > k_slip_out_ft + (memory.slipping ? 0.0 : 60.0);
    const double flap =
        memory.flaps_to_come.empty() ? memory.commands.flap_deg : memory.flaps_to_come.back().setting_deg;
    const double over = eye(intent, flight, state, {flap, 0.0}) - technique.planned_touchdown_ft;
    memory.slipping = allowed && over > (memory.slipping ? stop_long_ft : start_long_ft);
  } else {
    memory.slipping = false;
  }
  memory.commands.slip = memory.slipping ? 1.0 : 0.0;
}

void enter(Phase phase, double time_s, PilotMemory& memory) {
  memory.phase = phase;
  memory.phase_since_s = time_s;
}

void hold_base_course(PilotMemory& memory) {
  memory.commands.sin_course = std::sin(memory.base_course_rad);
  memory.commands.cos_course = std::cos(memory.base_course_rad);
}

/// Cuts the corner when the eye says short, squares it off when it says long: the path is the first of the
/// means.
void steer_base(const PilotIntent& intent, const Flight& flight, const FlightState& state,
                PilotMemory& memory) {
  const Technique& technique = *intent.technique;
  constexpr double least_base_ft = 300.0;
  constexpr double share_per_decision = 0.15;
  constexpr double most_rad = 25.0 * k_radians_per_degree;
  const double room_ft = -state.cross_ft;
  if (room_ft < least_base_ft) return;
  const double short_ft =
      technique.planned_touchdown_ft - eye(intent, flight, state, {technique.landing_flap_deg, 0.0});
  const double square = base_course_rad(technique);
  memory.base_course_rad = std::clamp(memory.base_course_rad - share_per_decision * short_ft / room_ft,
                                      square - most_rad, square + most_rad);
  hold_base_course(memory);
}

void decide_path(const PilotIntent& intent, const Flight& flight, const FlightState& state, double time_s,
                 PilotMemory& memory) {
  const Technique& technique = *intent.technique;
  Commands& commands = memory.commands;
  const GroundVelocity ground = ground_velocity(flight, state);
  if (memory.phase == Phase::downwind && time_s >= intent.base_turn_time_s - k_due_s) {
    enter(Phase::base_turn, time_s, memory);
    hold_base_course(memory);
    commands.bank_limit_rad = turn_bank_rad(technique.base_turn_bank_deg, *intent.deviation);
  }
  constexpr double wings_level_rad = 0.1, on_course_rad = 0.07;
  if (memory.phase == Phase::base_turn && std::abs(state.bank_rad) < wings_level_rad &&
      on_course(ground, memory.base_course_rad, on_course_rad)) {
    enter(Phase::base, time_s, memory);
    commands.bank_limit_rad = 0.35;
  }
  if (memory.phase == Phase::base && technique.path_by_eye) steer_base(intent, flight, state, memory);
  if (memory.phase == Phase::base_turn || memory.phase == Phase::base) {
    const double room = -state.cross_ft + technique.final_turn_cross_shift_ft;
    const bool turned_in = on_course(ground, memory.base_course_rad, 1.0);
    if (turned_in && room <= room_for_final_turn_ft(intent, flight, state, ground) + 0.5) {
      enter(Phase::final_turn, time_s, memory);
      commands.lateral = Commands::Lateral::capture_centreline;
      commands.bank_limit_rad = std::max(technique.final_turn_bank_limit_deg * k_radians_per_degree,
                                         turn_bank_rad(technique.final_turn_bank_deg, *intent.deviation));
    }
  }
  constexpr double lined_up_rad = 0.14, lined_up_ft = 120.0;
  if (memory.phase == Phase::final_turn && std::abs(state.bank_rad) < 0.17 &&
      on_course(ground, 0.0, lined_up_rad) && std::abs(state.cross_ft) < lined_up_ft) {
    enter(Phase::final_leg, time_s, memory);
  }
}

void decide_speed(const PilotIntent& intent, const Flight& flight, const FlightState& state, double time_s,
                  PilotMemory& memory) {
  Commands& commands = memory.commands;
  if (!memory.idle && time_s >= intent.idle_time_s - k_due_s) {
    memory.idle = true;
    commands.idle = true;
  }
  commands.speed_fps = flight.true_fps(wanted_speed_kt(intent, memory, state));
  if (memory.idle && !memory.gliding &&
      state.speed_fps <= commands.speed_fps + flight.true_fps(k_glide_lead_kt) + 0.01) {
    memory.gliding = true;
    commands.vertical = Commands::Vertical::hold_speed;
  }
  const double sink_fps = -state.speed_fps * std::sin(state.path_rad);
  const double flare_ft = std::clamp(intent.technique->flare_lead_s * sink_fps, 8.0, 60.0);
  if (memory.gliding && !memory.flaring && state.height_ft <= flare_ft + 0.05) {
    memory.flaring = true;
    commands.vertical = Commands::Vertical::flare;
    commands.flare_height_ft = state.height_ft;
    commands.flare_sink_fps = std::max(sink_fps, 2.0);
    commands.touchdown_speed_fps =
        flight.true_fps(intent.technique->touchdown_speed_kt + intent.deviation->touchdown_speed_kt);
  }
}

}  // namespace

PilotMemory begin(const PilotIntent& intent, const FlightState& start) {
  PilotMemory memory;
  memory.flaps_to_come = intent.technique->flaps;
  memory.base_course_rad = base_course_rad(*intent.technique);
  memory.commands.height_ft = start.height_ft;
  memory.commands.speed_fps = start.speed_fps;
  memory.commands.bank_limit_rad = 0.26;
  memory.commands.vertical = Commands::Vertical::hold_height;
  return memory;
}

void decide(const PilotIntent& intent, const Flight& flight, const FlightState& state, double time_s,
            PilotMemory& memory) {
  decide_path(intent, flight, state, time_s, memory);
  decide_speed(intent, flight, state, time_s, memory);
  if (!memory.flaring) {
    decide_flaps(intent, flight, state, time_s, memory);
    decide_slip(intent, flight, state, memory);
  } else {
    memory.commands.slip = 0.0;
  }
}

std::optional<double> next_awaited(const PilotIntent& intent, const Flight& flight, const FlightState& state,
                                   double time_s, double horizon_s, const PilotMemory& memory) {
  double earliest = time_s + horizon_s;
  const double none = earliest;
  const auto await = [&](double moment) {
    if (moment > time_s + 1e-6 && moment < earliest) earliest = moment;
  };
  if (!memory.idle) await(intent.idle_time_s);
  if (memory.phase == Phase::downwind) await(intent.base_turn_time_s);

  const GroundVelocity ground = ground_velocity(flight, state);
  if (memory.phase == Phase::base && ground.cross_fps > 1.0) {
    const double room = -state.cross_ft + intent.technique->final_turn_cross_shift_ft -
                        room_for_final_turn_ft(intent, flight, state, ground);
    await(time_s + room / ground.cross_fps);
  }
  if (memory.idle && !memory.gliding) {
    const FlightState rate = derivative(flight, state, memory.commands);
    if (rate.speed_fps < -0.1) {
      await(time_s + (state.speed_fps - memory.commands.speed_fps - flight.true_fps(k_glide_lead_kt)) /
                         -rate.speed_fps);
    }
  }
  const double sink_fps = -state.speed_fps * std::sin(state.path_rad);
  if (sink_fps > 1.0) {
    if (memory.gliding && !memory.flaring) {
      const double flare_ft = std::clamp(intent.technique->flare_lead_s * sink_fps, 8.0, 60.0);
      await(time_s + (state.height_ft - flare_ft) / sink_fps);
    }
    if (!memory.flaps_to_come.empty() && memory.flaps_to_come.front().when == FlapStep::When::at_height) {
      await(time_s + (state.height_ft - memory.flaps_to_come.front().height_ft) / sink_fps);
    }
  }
  if (earliest == none) return std::nullopt;
  return earliest;
}

bool stable_at_gate(const PilotIntent& intent, const Flight& flight, const FlightState& state, double time_s,
                    const PilotMemory& memory) {
  const GroundVelocity ground = ground_velocity(flight, state);
  const double speed_kt = flight.calibrated_kt(state.speed_fps);
  const double over_kt = speed_kt - intent.technique->final_speed_kt;
  const bool lined_up = std::abs(state.cross_ft) <= 75.0 && on_course(ground, 0.0, 0.17);
  const bool banked = std::abs(state.bank_rad) > 15.0 * k_radians_per_degree;
  const bool flap_settled = !memory.flap_moved_s || time_s - *memory.flap_moved_s >= 5.0;
  // A slip that is in stays for the half of the height down to where it must be out.
  const double seen = eye(intent, flight, state, {memory.commands.flap_deg, 0.5 * memory.commands.slip});
  const bool spot_on_the_box = seen > -150.0 && seen < 450.0;
  return memory.phase == Phase::final_leg && lined_up && !banked && over_kt >= -5.0 && over_kt <= 10.0 &&
         flap_settled && spot_on_the_box;
}

}  // namespace glidewright

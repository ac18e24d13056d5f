#include "engine/reach/flown_from.hpp"

#include <algorithm>
#include <cmath>

#include "engine/technique/clock.hpp"
#include "engine/technique/decisions.hpp"

namespace glidewright::reach {
namespace {

bool lined_up(const Flight& flight, const FlightState& state) {
  const GroundVelocity ground = ground_velocity(flight, state);
  return std::abs(state.cross_ft) <= 150.0 && std::abs(ground.course_rad()) <= 15.0 * k_radians_per_degree &&
         std::abs(state.bank_rad) <= 15.0 * k_radians_per_degree;
}

}  // namespace

FlownFrom fly_from(const Flight& flight, const Technique& technique, const FlightState& start,
                   const Steering& steering, double step_s) {
  const TechniqueSheet sheet(technique, *flight.airplane);
  const PilotIntent intent = intent_of(flight, sheet, {});
  PilotMemory memory = begin(intent, start);
  memory.idle = true;
  memory.flap.there = false;
  memory.commands.flap_deg = start.flap_deg;
  memory.commands.slip = start.slip;
  FlightState state = start;
  FlownFrom flown;
  bool gate_passed = false;
  double time_s = 0.0;
  const auto decide_now = [&] {
    steering(state, time_s, memory);
    pilot::decide_speed(intent, state, over_ground(flight, state), time_s, memory);
  };
  decide_now();
  while (time_s < k_longest_approach_s) {
    const double tick_end = time_s + k_decision_s;
    const double end = std::min(tick_end, next_awaited(intent, flight, state, time_s, tick_end, memory));
    const int steps = std::max(1, static_cast<int>(std::ceil((end - time_s) / step_s - 1e-6)));
    const double span = (end - time_s) / steps;
    for (int i = 0; i < steps; ++i) {
      const FlightState before = state;
      state = runge_kutta4(flight, before, memory.commands, span);
      flown.steepest_bank_deg =
          std::max(flown.steepest_bank_deg, std::abs(state.bank_rad) / k_radians_per_degree);
      if (!gate_passed && state.height_ft <= technique.gate_height_ft) {
        gate_passed = true;
        flown.lined_up_at_gate = lined_up(flight, state);
      }
      if (state.height_ft <= 0.0) {
        const double share = before.height_ft / (before.height_ft - state.height_ft);
        flown.touched_down = true;
        flown.along_ft = before.along_ft + share * (state.along_ft - before.along_ft);
        flown.cross_ft = before.cross_ft + share * (state.cross_ft - before.cross_ft);
        return flown;
      }
    }
    time_s = end;
    decide_now();
  }
  return flown;
}

}  // namespace glidewright::reach

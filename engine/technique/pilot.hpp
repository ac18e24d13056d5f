#pragma once
// The pilot's decisions, taken five times a second and at the moments he waits for.

#include <optional>
#include <vector>

#include "engine/glide/motion.hpp"
#include "engine/technique/approach.hpp"
#include "engine/technique/technique.hpp"

namespace glidewright {

enum class Phase { downwind, base_turn, base, final_turn, final_leg };

/// What the pilot remembers from one decision to the next.
struct PilotMemory {
  Phase phase = Phase::downwind;
  bool idle = false;
  bool gliding = false;
  bool flaring = false;
  double phase_since_s = 0.0;
  std::vector<FlapStep> flaps_to_come;
  std::optional<double> flap_moved_s;
  bool slipping = false;
  double base_course_rad = 0.0;  ///< steered, from base_course_deg on
  Commands commands;
};

/// How the technique came out in this flight.
struct PilotIntent {
  const Technique* technique = nullptr;
  const Deviation* deviation = nullptr;
  double idle_time_s = 0.0;
  double base_turn_time_s = 0.0;
};

PilotMemory begin(const PilotIntent& intent, const FlightState& start);

/// Takes every decision that is due at this moment.
void decide(const PilotIntent& intent, const Flight& flight, const FlightState& state, double time_s,
            PilotMemory& memory);

/// Earliest awaited moment within (time, time + horizon], so that cues fall between decisions where they
/// belong.
std::optional<double> next_awaited(const PilotIntent& intent, const Flight& flight, const FlightState& state,
                                   double time_s, double horizon_s, const PilotMemory& memory);

/// Stable at the gate: bank, line, speed, flap settled, slip out soon, and the eye on the box.
bool stable_at_gate(const PilotIntent& intent, const Flight& flight, const FlightState& state, double time_s,
                    const PilotMemory& memory);

}  // namespace glidewright

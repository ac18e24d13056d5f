#pragma once
// The pilot's decisions, taken five times a second and at the moments he waits for. The rules themselves are
// in decisions.hpp, once for this reference and for the batch.

#include <vector>

#include "engine/glide/motion.hpp"
#include "engine/technique/approach.hpp"
#include "engine/technique/intent.hpp"
#include "engine/technique/technique.hpp"

namespace glidewright {

using PilotMemory = PilotMemoryOf<double>;
using PilotIntent = PilotIntentOf<double>;

/// The airplane in today's air, with what is otherwise than planned. `airplane` must outlive it.
Flight flight_of(const Airplane& airplane, const Conditions& conditions, const Deviation& deviation);

/// Steady on downwind, wings level, crabbed for the wind, `time_s` after abeam. Pattern frame.
FlightState steady_on_downwind(const Flight& flight, double spacing_ft, double height_ft,
                               double calibrated_kt, double time_s);

/// A technique as numbers, with its flap steps kept beside them.
struct TechniqueSheet {
  std::vector<FlapStepNumbers> flaps;
  TechniqueNumbers numbers;

  TechniqueSheet(const Technique& technique, const Airplane& airplane);
  TechniqueSheet(const TechniqueSheet&) = delete;
  TechniqueSheet& operator=(const TechniqueSheet&) = delete;
};

/// The technique as this pilot flies it today. `sheet` must outlive it.
PilotIntent intent_of(const Flight& flight, const TechniqueSheet& sheet, const Deviation& deviation);

PilotMemory begin(const PilotIntent& intent, const FlightState& start);

/// Takes every decision that is due at this moment.
void decide(const PilotIntent& intent, const Flight& flight, const FlightState& state, double time_s,
            PilotMemory& memory);

/// Earliest awaited moment after now, `latest_s` if there is none before that: so that cues fall between
/// decisions where they belong.
double next_awaited(const PilotIntent& intent, const Flight& flight, const FlightState& state, double time_s,
                    double latest_s, const PilotMemory& memory);

/// Stable at the gate: bank, line, speed, flap settled, slip out soon, and the eye on the box.
bool stable_at_gate(const PilotIntent& intent, const Flight& flight, const FlightState& state, double time_s,
                    const PilotMemory& memory);

}  // namespace glidewright

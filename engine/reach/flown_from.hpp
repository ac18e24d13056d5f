#pragma once
// The reference integrator from any state on, with somebody else deciding: what the band is checked by.

#include <functional>

#include "engine/technique/pilot.hpp"

namespace glidewright::reach {

/// Sets course, bank, flap and slip of `memory.commands`, and `memory.phase` for the speed; asked every
/// 0.2 s. Speed and flare are the technique's.
using Steering = std::function<void(const FlightState&, double time_s, PilotMemory&)>;

struct FlownFrom {
  bool touched_down = false;
  double along_ft = 0.0;
  double cross_ft = 0.0;
  bool lined_up_at_gate = false;  ///< within 150 ft and 15 degrees of course, bank at most 15 degrees
  double steepest_bank_deg = 0.0;
};

FlownFrom fly_from(const Flight& flight, const Technique& technique, const FlightState& start,
                   const Steering& steering, double step_s = 0.05);

}  // namespace glidewright::reach

#include "engine/technique/eye.hpp"

#include "engine/technique/pilot.hpp"

namespace glidewright {

double eye_touchdown_ft(const Flight& flight, const FlightState& state, const Technique& technique,
                        EyeConfiguration configuration) {
  const TechniqueSheet sheet(technique, *flight.airplane);
  return pilot::glide_seen_to_end_ft(flight, state, over_ground(flight, state),
                                     pilot::eye_numbers<double>(flight, sheet.numbers), sheet.numbers,
                                     configuration);
}

}  // namespace glidewright

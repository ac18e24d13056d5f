#pragma once
// Energy strip and ground sketch of one attempt, as SVG of a given size.

#include <string>

#include "engine/debrief/debrief.hpp"

namespace glidewright::report {

struct DrawingSize {
  double width = 640.0;
  double height = 300.0;
};

/// Height above the point against distance still to fly: flown solid, plan dashed, key points as thin
/// verticals, an open dot every 20 s. Empty where the log has no heights or no path.
std::string energy_strip(const AttemptDebrief& one, const Debrief& debrief, DrawingSize size);

/// From above, landing to the right, the pattern always on top. Empty where there is no path.
std::string ground_sketch(const AttemptDebrief& one, const Debrief& debrief, DrawingSize size);

}  // namespace glidewright::report

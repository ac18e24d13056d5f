#pragma once
// Energy strip and ground sketch of one attempt, as SVG of a given size.

#include <string>

#include "engine/debrief/debrief.hpp"
#include "formats/report/drawing_parts.hpp"

namespace glidewright::report {

/// Height above the point against distance still to fly: flown solid, plan dashed, key points as thin
/// verticals, an open dot every 20 s. Empty where the log has no heights or no path.
std::string energy_strip(const AttemptDebrief& one, const Debrief& debrief, DrawingSize size);

/// From above, landing to the right, the pattern always on top. Empty where there is no path.
std::string ground_sketch(const AttemptDebrief& one, const Debrief& debrief, DrawingSize size);

}  // namespace glidewright::report

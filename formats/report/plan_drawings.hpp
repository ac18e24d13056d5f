#pragma once
// Energy strip and ground sketch of a plan, as SVG of a given size, for the ramp card.

#include <string>

#include "formats/brief_json.hpp"
#include "formats/report/drawing_parts.hpp"

namespace glidewright::report {

/// Height above the point against distance still to fly: the planned approach dashed on the band, key points
/// as thin verticals. Empty without a plan.
std::string planned_strip(const Brief& brief, DrawingSize size);

/// From above, landing to the right, the pattern always on top, with the two cues: the seconds flown past
/// abeam and the angle at which the point lies behind the wing. Empty without a plan.
std::string planned_sketch(const Brief& brief, DrawingSize size);

}  // namespace glidewright::report

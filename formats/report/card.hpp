#pragma once
// The ramp card: the plan on half a page of paper or on a phone in the sun.

#include <string>
#include <vector>

#include "engine/plan/other_winds.hpp"
#include "formats/brief_json.hpp"

namespace glidewright {

/// Self-contained HTML, black on white; five rulers to mark by hand where it is printed (A5). Without a plan
/// it says why and shows no number. Beside the heights the room in nine of ten winds, down to half-mile
/// final; none below the gate: an edge there would be an invitation.
std::string plan_card_html(const Brief& brief, const std::vector<CueAtWind>& other_winds);

}  // namespace glidewright

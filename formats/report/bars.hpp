#pragma once
// Runway ruler and ledger: bars along one scale of feet, as parts of a page that flow with its width.

#include <string>

#include "engine/debrief/debrief.hpp"
#include "formats/report/feet_scale.hpp"

namespace glidewright::report {

/// Wide enough for every touchdown, its interval, and every running sum of causes.
FeetScale scale_of(const Debrief& debrief);

/// One row for each attempt: interval and best guess, the log's own as a thin bar where something was seen.
std::string runway_ruler(const Debrief& debrief, const FeetScale& scale);

/// From the planned touchdown by one row for each cause to the touchdown. Printed effects add up: "not
/// explained" takes what rounding leaves over.
std::string ledger(const AttemptDebrief& one, Box box, const FeetScale& scale);

}  // namespace glidewright::report

#pragma once
// What the ruler and the ledger show of a debrief.

#include <vector>

#include "apps/cli/picture/ledger.hpp"
#include "apps/cli/picture/runway_ruler.hpp"
#include "engine/debrief/debrief.hpp"

namespace glidewright {

/// With the verdict of the first standard that could be graded. The time is UTC, of the touchdown, else of
/// the go-around, else of the attempt's end.
RulerRow ruler_row(const AttemptDebrief& attempt);

/// In flown order.
std::vector<RulerRow> ruler_rows(const Debrief& debrief);

LedgerScene ledger_scene(const AttemptDebrief& attempt, Box box);

}  // namespace glidewright

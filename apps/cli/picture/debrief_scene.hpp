#pragma once
// What the ruler and the ledger show of a debrief.

#include <vector>

#include "apps/cli/picture/ledger.hpp"
#include "apps/cli/picture/runway_ruler.hpp"
#include "engine/debrief/debrief.hpp"

namespace glidewright {

/// Rows in flown order, with the verdict of the first standard that could be graded. Times are UTC, of the
/// touchdown, else of the go-around, else of the attempt's end.
std::vector<RulerRow> ruler_rows(const Debrief& debrief);

LedgerScene ledger_scene(const AttemptDebrief& attempt, Box box);

}  // namespace glidewright

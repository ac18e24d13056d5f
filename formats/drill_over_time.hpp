#pragma once
// What answers say of an eye as time goes by.

#include <string>
#include <vector>

#include "formats/drill_json.hpp"

namespace glidewright {

/// Some answers one after the other, and what they say.
struct DrillPeriod {
  double first_unix_s = 0.0;
  double last_unix_s = 0.0;
  DrillScore score;
  std::optional<double> ahead_spread_ft;  ///< how far the marks scatter along the way, sd of one; from 3 on
};

/// In parts of twenty by the time of the answer; a rest of fewer than ten goes to the part before it.
std::vector<DrillPeriod> drill_periods(std::vector<KeptAnswer> answers);

Json drill_periods_to_json(const std::vector<DrillPeriod>& periods);

/// A sentence for each period: "2026-05-14 to 2026-05-20: 13 of 20 right; 5 too low, 2 too high; ...". None
/// where there is one period only, whose score says the same.
std::vector<std::string> drill_period_words(const std::vector<DrillPeriod>& periods);

}  // namespace glidewright

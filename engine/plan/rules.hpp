#pragma once
// "If above, if below" at the key points: what each rule is worth, found by leaving it out.

#include "engine/plan/search.hpp"

namespace glidewright {

/// The plan's flights that were above or below what two thirds of the good ones have at a key point, flown
/// with the rule that answers it and without; and all of them with every rule and with none. `flights` of the
/// plan's seed with `plan.technique`, followed by the same flights with one rule left out at a time.
std::vector<RuleWorth> worth_of_rules(const PlanRequest& request, const Plan& plan, int flights,
                                      const ShareOut& share_out);

}  // namespace glidewright

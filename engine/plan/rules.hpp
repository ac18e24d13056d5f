#pragma once
// "If above, if below" at the key points: what each rule is worth, found by leaving it out.

#include "engine/plan/search.hpp"

namespace glidewright {

/// The plan's flights that were above or below what two thirds of the good ones have at a key point, flown
/// with the rule that answers it and without; and all of them with every rule and with none. `request` is the
/// plan's, with the technique chosen, and `followed` its first flights.
std::vector<RuleWorth> worth_of_rules(const PlanRequest& request, const Plan& plan,
                                      const std::vector<FlownOnce>& followed, const ShareOut& share_out);

}  // namespace glidewright

#pragma once
// Where no cue is offered, and what is said beside one.

#include <string>
#include <vector>

#include "engine/plan/plan.hpp"
#include "engine/plan/search.hpp"

namespace glidewright {

/// Share of flights that may touch before the runway with the go-around disabled.
inline constexpr double k_most_short_of_runway = 0.005;

/// Wind beyond the handbook, tailwind, weights and speeds that cannot be flown: each one sentence.
std::vector<std::string> refusals_before_flying(const PlanRequest& request);
std::vector<std::string> cautions_before_flying(const PlanRequest& request);

/// Why the search came back empty.
std::string no_cue_reason(const PlanRequest& request, const CueFound& found);

/// Looking spot off the runway, too little pavement beyond the box, the planned path into an obstacle.
std::vector<std::string> refusals_after_flying(const PlanRequest& request, const Plan& plan);
/// Obstacles that the planned path clears by less than is asked for.
std::vector<std::string> cautions_after_flying(const PlanRequest& request, const Plan& plan);

}  // namespace glidewright

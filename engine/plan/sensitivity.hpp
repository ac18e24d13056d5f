#pragma once

#include <vector>

#include "engine/plan/plan.hpp"

namespace glidewright {

/// What moves the touchdown of the planned approach when nothing answers it: flap and slip stay at the
/// heights of the plan. The cue that would answer it follows from what a second of cue is worth.
std::vector<Sensitivity> sensitivities(const PlanRequest& request, const Plan& plan);

}  // namespace glidewright

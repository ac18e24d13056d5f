#pragma once
// What the cue would be if the windsock says something else.

#include <optional>
#include <vector>

#include "engine/plan/plan.hpp"

namespace glidewright {

struct CueAtWind {
  double headwind_kt = 0.0;     ///< at 10 m; negative: tailwind
  std::optional<double> cue_s;  ///< none where no plan is offered
};

/// The plan's own headwind and steps of 3 kt below and above it, with the same wind across and the same gust.
/// Each cue is as much sooner or later than the unanswered one of its wind as the plan's is. Tailwinds are
/// left out.
std::vector<CueAtWind> cues_at_other_winds(const PlanRequest& request, const Plan& plan);

}  // namespace glidewright

#include "engine/plan/other_winds.hpp"

#include <algorithm>

#include "engine/plan/limits.hpp"
#include "engine/plan/search.hpp"

namespace glidewright {

std::vector<CueAtWind> cues_at_other_winds(const PlanRequest& request, const Plan& plan) {
  const double later_s = plan.cue.seconds_past_abeam - plan.unanswered_cue_s;
  const Degrees landing{request.conditions.runway_true_deg};
  const WindComponents today = components(request.conditions.wind.at_10m, landing);
  std::vector<CueAtWind> cues;
  for (const int steps : {-2, -1, 0, 1, 2}) {
    constexpr double step_kt = 3.0;
    const double headwind_kt = today.headwind.value + step_kt * steps;
    if (headwind_kt < 0.0) continue;
    PlanRequest other = request;
    other.conditions.wind.at_10m = wind_with({Knots{headwind_kt}, today.crosswind_from_right}, landing);
    CueAtWind cue{headwind_kt, std::nullopt};
    if (refusals_before_flying(other).empty()) {
      const CueFound found = steps == 0 ? CueFound{plan.unanswered_cue_s, true} : search_cue(other);
      if (found.found) cue.cue_s = std::max(0.0, found.cue_s + later_s);
    }
    cues.push_back(cue);
  }
  return cues;
}

}  // namespace glidewright

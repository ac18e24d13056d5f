#include "engine/plan/sensitivity.hpp"

#include <algorithm>

#include "engine/plan/search.hpp"

namespace glidewright {
namespace {

/// Differences of flights: what a step of 0.1 s does to each is in both.
IntegratorSettings settings_for(const PlanRequest& request) {
  return {std::max(0.1, 2.0 * request.nominal_step_s), Trace::none, Watch::touchdown_only};
}

}  // namespace

std::vector<Sensitivity> sensitivities(const PlanRequest& request, const Plan& plan) {
  const Technique technique = as_it_went(plan.technique, plan.nominal);
  const auto touchdown = [&](const Technique& flown, const Deviation& deviation,
                             const Conditions& conditions) {
    return fly(request.airplane, conditions, flown, deviation, settings_for(request)).touchdown->along_ft;
  };
  const double planned = touchdown(technique, {}, request.conditions);
  // Central difference: a second of cue moves the touchdown by about two hundred feet.
  const double per_cue_second = 0.5 * (touchdown(technique, {.cue_s = 1.0}, request.conditions) -
                                       touchdown(technique, {.cue_s = -1.0}, request.conditions));
  std::vector<Sensitivity> found;
  const auto add = [&](const char* change, double moved_ft) {
    found.push_back({change, moved_ft, -moved_ft / per_cue_second});
  };
  const auto deviates = [&](const char* change, const Deviation& deviation) {
    add(change, touchdown(technique, deviation, request.conditions) - planned);
  };
  deviates("1 kt more headwind", {.headwind_kt = 1.0});
  found.push_back(
      {"1 s late to turn base", touchdown(technique, {.cue_s = 1.0}, request.conditions) - planned, {}});
  deviates("100 ft wider on downwind", {.spacing_ft = 100.0});
  deviates("50 ft higher abeam", {.height_ft = 50.0});

  Technique fast = technique;
  fast.final_speed_kt += 5.0;
  fast.short_final_speed_kt += 5.0;
  found.push_back({"5 kt fast on final, net", touchdown(fast, {}, request.conditions) - planned, {}});

  if (!technique.flaps.empty()) {
    Technique late = technique;
    late.flaps.back().height_ft -= 50.0;
    found.push_back({"last flap 50 ft later", touchdown(late, {}, request.conditions) - planned, {}});
  }
  deviates("drag 5 % higher than the profile", {.glide_relative = 0.05});
  return found;
}

}  // namespace glidewright

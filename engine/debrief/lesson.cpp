#include "engine/debrief/lesson.hpp"

#include <cmath>

#include "engine/units/words.hpp"

namespace glidewright {
namespace {

/// The remedy with the plan's own numbers where they say more.
std::string fix_for(const Cause& cause, const CausesRequest& request) {
  const bool was_long = cause.effect_ft > 0.0;
  const Technique& planned = request.plan.technique;
  if (cause.cause == "base turn") {
    const double late_s = request.flown.base_turn_s.value - request.planned_cue_s;
    return words("turn base %.1f s %s", std::abs(late_s), late_s > 0.0 ? "sooner" : "later");
  }
  if (cause.cause == "height and distance abeam")
    return words("be abeam at %.0f ft, %.2f NM out", tens(planned.pattern_height_ft),
                 to_nautical_miles(Feet{planned.spacing_ft}).value);
  if (cause.cause == "speed held, net") return words("hold %.0f kt on final", planned.final_speed_kt);
  if (cause.cause == "flare and touchdown speed")
    return words("hold off until about %.0f kt", planned.touchdown_speed_kt);
  return remedy_for(cause.cause, was_long);
}

}  // namespace

std::string remedy_for(const std::string& cause, bool was_long) {
  if (cause == "base turn") return was_long ? "turn base later" : "turn base sooner";
  if (cause == "height and distance abeam") return "be abeam at the height and distance that the plan has";
  if (cause == "idle timing") return "close the throttle abeam the point";
  if (cause == "path to final")
    return was_long ? "fly base on to the planned final turn before turning in"
                    : "turn final sooner, cutting the corner";
  if (cause == "flaps") return "set the flaps where the plan has them";
  if (cause == "slip") return was_long ? "slip when the eye says high" : "take the slip out sooner";
  if (cause == "speed held, net") return "hold the plan's speed on final";
  if (cause == "flare and touchdown speed")
    return was_long ? "flare where the plan has it, and hold off no longer"
                    : "hold off until the plan's touchdown speed";
  return {};
}

std::string lesson_of(const CausesRequest& request, const Causes& causes) {
  if (!request.touchdown) return "";
  const double miss_ft = request.touchdown->along_ft - causes.planned_touchdown_ft;
  for (const auto& cause : causes.causes) {
    const bool pushed_that_way = cause.effect_ft * miss_ft > 0.0;
    if (cause.undecided() || !pushed_that_way || std::abs(cause.effect_ft) < k_worth_a_word_ft) continue;
    const std::string fix = fix_for(cause, request);
    if (fix.empty()) continue;
    return words(
        "Earliest fix: %s (%s ft). Same wind: turn base %.0f s past abeam from %.0f ft. It worked if you see "
        "the wheels "
        "in the box.",
        fix.c_str(), signed_words(tens(-cause.effect_ft)).c_str(), request.planned_cue_s,
        tens(request.pattern_was_planned ? request.plan.technique.pattern_height_ft
                                         : request.flown.pattern_height_ft));
  }
  return "";
}

}  // namespace glidewright

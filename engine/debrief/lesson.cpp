#include "engine/debrief/lesson.hpp"

#include <cmath>
#include <cstdio>

#include "engine/units/words.hpp"

namespace glidewright {
namespace {

/// What to do about a cause, in the pilot's hands; none for wind and airplane.
std::string fix_for(const Cause& cause, const CausesRequest& request) {
  char text[160] = "";
  const AttemptAsFlown& flown = request.flown;
  if (cause.cause == "base turn") {
    const double late_s = flown.base_turn_s.value - request.planned_cue_s;
    std::snprintf(text, sizeof text, "turn base %.1f s %s", std::abs(late_s),
                  late_s > 0.0 ? "sooner" : "later");
  } else if (cause.cause == "height and distance abeam") {
    std::snprintf(text, sizeof text, "be abeam at %.0f ft, %.2f NM out",
                  10.0 * std::round(request.plan.technique.pattern_height_ft / 10.0),
                  to_nautical_miles(Feet{request.plan.technique.spacing_ft}).value);
  } else if (cause.cause == "idle timing") {
    std::snprintf(text, sizeof text, "close the throttle abeam the point");
  } else if (cause.cause == "path to final") {
    std::snprintf(text, sizeof text, "%s",
                  cause.effect_ft > 0.0 ? "fly base on to the planned final turn before turning in"
                                        : "turn final sooner, cutting the corner");
  } else if (cause.cause == "flaps") {
    std::snprintf(text, sizeof text, "set the flaps where the plan has them");
  } else if (cause.cause == "speed held, net") {
    std::snprintf(text, sizeof text, "hold %.0f kt on final", request.plan.technique.final_speed_kt);
  } else if (cause.cause == "flare and touchdown speed") {
    std::snprintf(text, sizeof text, "hold off until about %.0f kt",
                  request.plan.technique.touchdown_speed_kt);
  }
  return text;
}

}  // namespace

std::string lesson_of(const CausesRequest& request, const Causes& causes) {
  if (!request.touchdown) return "";
  const double miss_ft = request.touchdown->along_ft - causes.planned_touchdown_ft;
  constexpr double worth_a_word_ft = 80.0;
  for (const auto& cause : causes.causes) {
    const bool pushed_that_way = cause.effect_ft * miss_ft > 0.0;
    if (cause.undecided() || !pushed_that_way || std::abs(cause.effect_ft) < worth_a_word_ft) continue;
    const std::string fix = fix_for(cause, request);
    if (fix.empty()) continue;
    return words(
        "Earliest fix: %s (%s ft). Same wind: turn base %.0f s past abeam from %.0f ft. It worked if you see "
        "the wheels "
        "in the box.",
        fix.c_str(), signed_words(10.0 * std::round(-cause.effect_ft / 10.0)).c_str(), request.planned_cue_s,
        10.0 * std::round((request.pattern_was_planned ? request.plan.technique.pattern_height_ft
                                                       : request.flown.pattern_height_ft) /
                          10.0));
  }
  return "";
}

}  // namespace glidewright

#include "engine/plan/rules.hpp"

#include <algorithm>
#include <cmath>
#include <functional>

#include "engine/units/words.hpp"

namespace glidewright {
namespace {

/// The same flights, flown with the rule and without.
struct Pair {
  const std::vector<FlownOnce>& followed;
  const std::vector<FlownOnce>& not_followed;
};

RuleWorth compared(const Pair& pair, Box box, const std::function<bool(const FlownOnce&)>& concerned) {
  RuleWorth worth;
  int with_it = 0, without_it = 0, differ = 0;
  for (std::size_t i = 0; i < pair.followed.size(); ++i) {
    if (!concerned(pair.followed[i])) continue;
    ++worth.flights;
    const bool followed = in_box(pair.followed[i], box), not_followed = in_box(pair.not_followed[i], box);
    with_it += followed;
    without_it += not_followed;
    differ += followed != not_followed;
  }
  if (worth.flights == 0) return worth;
  const double n = worth.flights;
  worth.in_box_followed = with_it / n;
  worth.in_box_not_followed = without_it / n;
  worth.gain = worth.in_box_followed - worth.in_box_not_followed;
  // Each pair adds -1, 0 or 1: the variance of their mean.
  const double error = std::sqrt(std::max(0.0, differ / n - worth.gain * worth.gain) / n);
  constexpr double two_sided_95 = 1.96;
  worth.gain_low95 = worth.gain - two_sided_95 * error;
  worth.gain_high95 = worth.gain + two_sided_95 * error;
  return worth;
}

/// To ten feet, thousands set off as people write them.
std::string height_words(double height_ft) {
  const int tens = static_cast<int>(10.0 * std::round(height_ft / 10.0));
  return tens < 1000 ? words("%d ft", tens) : words("%d,%03d ft", tens / 1000, tens % 1000);
}

struct KeyPointRule {
  const char* at;
  double FlownOnce::*height_ft;
  const char* if_above;
  const char* if_below;  ///< none: nothing of this rule is left then
  Technique (*without)(Technique);
};

Technique without_path(Technique technique) {
  technique.path_by_eye = false;
  return technique;
}
Technique with_every_flap(Technique technique) {
  for (auto& step : technique.flaps) step.only_if_high_enough = false;
  return technique;
}
Technique without_slip(Technique technique) {
  technique.slip_when_high = false;
  return technique;
}

bool has_a_flap_to_hold_back(const Technique& technique) {
  return std::any_of(technique.flaps.begin(), technique.flaps.end(),
                     [](const FlapStep& step) { return step.only_if_high_enough; });
}

std::vector<KeyPointRule> rules_of(const Technique& technique) {
  std::vector<KeyPointRule> rules;
  if (technique.path_by_eye) {
    rules.push_back({"base turn", &FlownOnce::base_turn_height_ft, "square off base, away from the threshold",
                     "cut the corner, towards the threshold", without_path});
  }
  if (has_a_flap_to_hold_back(technique)) {
    rules.push_back(
        {"final turn", &FlownOnce::final_turn_height_ft, nullptr, "leave the next flap up", with_every_flap});
  }
  if (technique.slip_when_high) {
    rules.push_back(
        {"half-mile final", &FlownOnce::half_mile_height_ft, "slip, out by 100 ft", nullptr, without_slip});
  }
  return rules;
}

}  // namespace

std::vector<RuleWorth> worth_of_rules(const PlanRequest& request, const Plan& plan,
                                      const std::vector<FlownOnce>& followed, const ShareOut& share_out) {
  const Technique& technique = request.technique;
  const auto fly_without = [&](const Technique& without) {
    PlanRequest changed = request;
    changed.technique = without;
    return fly_over_spread(changed, plan.cue.seconds_past_abeam, 0, static_cast<int>(followed.size()),
                           share_out);
  };
  std::vector<RuleWorth> found;
  for (const KeyPointRule& rule : rules_of(technique)) {
    const auto expected = std::find_if(plan.key_points.begin(), plan.key_points.end(),
                                       [&](const ExpectedHeight& one) { return one.at == rule.at; });
    if (expected == plan.key_points.end()) continue;
    const auto not_followed = fly_without(rule.without(technique));
    const auto add = [&](const char* words_for_it, const std::string& when, auto concerned) {
      if (!words_for_it) return;
      RuleWorth worth = compared({followed, not_followed}, request.box, concerned);
      worth.at = rule.at;
      worth.when = when;
      worth.rule = words_for_it;
      found.push_back(worth);
    };
    const double low = expected->low_ft, high = expected->high_ft;
    // A height of 0 was not passed.
    add(rule.if_above, "above " + height_words(high),
        [&](const FlownOnce& f) { return f.*rule.height_ft > high; });
    add(rule.if_below, "below " + height_words(low),
        [&](const FlownOnce& f) { return f.*rule.height_ft > 0.0 && f.*rule.height_ft < low; });
  }
  const auto none = fly_without(without_rules(technique));
  RuleWorth together = compared({followed, none}, request.box, [](const FlownOnce&) { return true; });
  together.at = "all the way";
  together.when = "always";
  together.rule = "all of the rules";
  found.push_back(together);
  return found;
}

}  // namespace glidewright

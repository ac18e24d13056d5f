#include "engine/plan/plan.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>

#include "engine/plan/binomial.hpp"
#include "engine/plan/limits.hpp"
#include "engine/plan/robust.hpp"
#include "engine/plan/rules.hpp"
#include "engine/plan/search.hpp"
#include "engine/plan/sensitivity.hpp"

namespace glidewright {
namespace {

/// The flights that count are not those that the cue was chosen by, which it suits.
std::uint64_t another_seed(std::uint64_t seed) {
  return seed + 0x9E3779B97F4A7C15U;
}

double percentile(std::vector<double> values, double share) {
  if (values.empty()) return 0.0;
  const auto at = static_cast<std::ptrdiff_t>(share * static_cast<double>(values.size() - 1) + 0.5);
  std::nth_element(values.begin(), values.begin() + at, values.end());
  return values[static_cast<std::size_t>(at)];
}

Cue describe_cue(const Approach& nominal, double cue_s, const PlanRequest& request) {
  Cue cue;
  cue.seconds_past_abeam = cue_s;
  cue.distance_past_abeam_ft = -nominal.base_turn.along_ft;
  cue.angle_past_abeam_deg =
      std::atan2(cue.distance_past_abeam_ft, std::abs(nominal.base_turn.cross_ft)) / k_radians_per_degree;
  // Downwind the course is the runway's reversed; the nose is off it by the crab, and the wing with it.
  const double downwind_course = request.conditions.runway_true_deg + 180.0;
  cue.crab_deg = wrap_180_deg(nominal.base_turn.heading_true_deg - downwind_course);
  const double nose_away_deg = request.conditions.traffic == Traffic::left ? cue.crab_deg : -cue.crab_deg;
  cue.angle_behind_wing_deg = cue.angle_past_abeam_deg + nose_away_deg;
  return cue;
}

/// Heights of the planned approach, and what two thirds of the flights that made the box had.
std::vector<ExpectedHeight> expected_heights(const Approach& nominal, const std::vector<FlownOnce>& flights,
                                             const PlanRequest& request) {
  std::vector<FlownOnce> made;
  for (const auto& flight : flights) {
    if (in_box(flight, request.box)) made.push_back(flight);
  }
  const auto spread = [&](const char* at, double planned_ft, double FlownOnce::*height) {
    std::vector<double> heights;
    for (const auto& flight : made) {
      if (flight.*height > 0.0) heights.push_back(flight.*height);
    }
    if (heights.empty()) return ExpectedHeight{at, planned_ft, planned_ft, planned_ft};
    return ExpectedHeight{at, planned_ft, percentile(heights, 1.0 / 6.0), percentile(heights, 5.0 / 6.0)};
  };
  const double pattern_ft = request.technique.pattern_height_ft;
  std::vector<ExpectedHeight> heights{
      {"abeam", pattern_ft, pattern_ft - request.scatter.height_ft, pattern_ft + request.scatter.height_ft},
      spread("base turn", nominal.base_turn.height_ft, &FlownOnce::base_turn_height_ft)};
  if (nominal.mid_base) {
    heights.push_back(spread("mid-base", nominal.mid_base->height_ft, &FlownOnce::mid_base_height_ft));
  }
  if (nominal.final_turn) {
    heights.push_back(spread("final turn", nominal.final_turn->height_ft, &FlownOnce::final_turn_height_ft));
  }
  if (nominal.half_mile_final) {
    heights.push_back(
        spread("half-mile final", nominal.half_mile_final->height_ft, &FlownOnce::half_mile_height_ft));
  }
  // At the gate the height is given, and no room is printed: it closes there.
  const double gate_ft = request.technique.gate_height_ft;
  heights.push_back({"gate", gate_ft, gate_ft, gate_ft});
  return heights;
}

Success count_success(const PlanRequest& request, double cue_s, const std::vector<FlownOnce>& flights,
                      const ShareOut& share_out) {
  Success success;
  success.flights = static_cast<int>(flights.size());
  if (flights.empty()) return success;
  const int in_box = count_in_box(flights, request.box);
  const auto interval = clopper_pearson(in_box, success.flights, 0.95);
  success.in_box = {static_cast<double>(in_box) / success.flights, interval.low, interval.high};
  const auto landed =
      std::count_if(flights.begin(), flights.end(), [](const FlownOnce& f) { return f.stable; });
  success.go_around = 1.0 - static_cast<double>(landed) / success.flights;
  success.landed_in_box_of_landed = landed > 0 ? in_box / static_cast<double>(landed) : 0.0;
  success.short_of_runway = share_short(flights, request.threshold_along_ft);
  std::vector<double> touchdowns;
  for (const auto& flight : flights) touchdowns.push_back(flight.touchdown_ft);
  success.median_touchdown_ft = percentile(touchdowns, 0.5);
  success.low80_ft = percentile(touchdowns, 0.1);
  success.high80_ft = percentile(touchdowns, 0.9);
  const auto chance_at = [&](double cue) {
    // The same luck as the plan's own, so half as many show a difference.
    const int flights_for_a_difference = request.flights / 2;
    const auto flown = fly_over_spread(request, std::max(0.0, cue), 0, flights_for_a_difference, share_out);
    return count_in_box(flown, request.box) / static_cast<double>(flights_for_a_difference);
  };
  success.in_box_second_early = chance_at(cue_s - 1.0);
  success.in_box_second_late = chance_at(cue_s + 1.0);
  return success;
}

std::vector<FlapAdvice> flap_advice(const Technique& technique) {
  std::vector<FlapAdvice> advice;
  for (const auto& step : technique.flaps) {
    FlapAdvice one;
    one.setting_deg = step.setting_deg;
    switch (step.when) {
      case FlapStep::When::wings_level_base:
        one.at = "rolled out on base";
        break;
      case FlapStep::When::final_turn:
        one.at = "turning final, set by 350 ft";
        break;
      case FlapStep::When::wings_level_final:
        one.at = "on final, set by 350 ft";
        break;
      case FlapStep::When::at_height: {
        char text[32];
        std::snprintf(text, sizeof text, "at %.0f ft", step.height_ft);
        one.at = text;
        break;
      }
    }
    one.rule = step.only_if_high_enough ? "low: leave it up" : "always";
    advice.push_back(one);
  }
  return advice;
}

PlanSpeeds plan_speeds(const PlanRequest& request) {
  const Technique& technique = request.technique;
  const Handbook& handbook = request.airplane.handbook;
  PlanSpeeds speeds;
  speeds.pattern_kcas = technique.pattern_speed_kt;
  speeds.downwind_kcas = technique.downwind_speed_kt;
  speeds.base_kcas = technique.base_speed_kt;
  speeds.final_kcas = technique.final_speed_kt;
  speeds.short_final_kcas = technique.short_final_speed_kt;
  speeds.gust_addition_kt = 0.5 * request.conditions.wind.gust.value;
  speeds.best_glide_kcas = handbook.best_glide_speed_kcas.value *
                           std::sqrt(request.conditions.weight_lb / handbook.maximum_weight_lb.value);
  speeds.stall_landing_kcas =
      request.airplane.polar.stall_kcas(request.conditions.weight_lb, technique.landing_flap_deg);
  speeds.source = "best glide: " + handbook.best_glide_speed_kcas.source +
                  "; approach: " + handbook.approach_speed_kcas.source;
  return speeds;
}

/// Everything about a cue but what other cues and rules are worth.
Plan plan_with(const PlanRequest& request, double cue_s, const std::vector<FlownOnce>& flights,
               const ShareOut& share_out) {
  Plan plan;
  plan.technique = request.technique;
  plan.nominal = fly_nominal_with_rules(request, cue_s, Trace::every_decision);
  plan.cue = describe_cue(plan.nominal, cue_s, request);
  plan.key_points = expected_heights(plan.nominal, flights, request);
  plan.flaps = flap_advice(request.technique);
  plan.speeds = plan_speeds(request);
  plan.success = count_success(request, cue_s, flights, share_out);
  plan.looking_spot_ft = plan.nominal.aim_point_ft;
  plan.gate_altimeter_ft = request.elevation_ft + request.technique.gate_height_ft;
  plan.planned_touchdown_ft = plan.nominal.touchdown->along_ft;
  return plan;
}

}  // namespace

PlanAnswer make_plan(const PlanRequest& request, const ShareOut& share_out) {
  PlanAnswer answer;
  answer.refusals = refusals_before_flying(request);
  answer.cautions = cautions_before_flying(request);
  if (!answer.refusals.empty()) return answer;

  const CueFound as_planned = search_cue(request);
  if (!as_planned.found) {
    answer.refusals.push_back(no_cue_reason(request, as_planned));
    return answer;
  }
  offer_robust_cues(request, as_planned.cue_s, share_out, [&](const RobustCue& cue) {
    PlanRequest chosen = request;
    chosen.technique = cue.technique;
    chosen.seed = another_seed(request.seed);
    auto flights = fly_over_spread(chosen, cue.cue_s, 0, request.flights, share_out);
    Plan plan = plan_with(chosen, cue.cue_s, flights, share_out);
    plan.unanswered_cue_s = as_planned.cue_s;
    plan.search_flights = cue.flights;
    answer.refusals = refusals_after_flying(chosen, plan);
    if (!answer.refusals.empty()) return false;
    for (auto& caution : cautions_after_flying(chosen, plan)) answer.cautions.push_back(std::move(caution));
    if (!flights.empty()) {
      // Half of them show a rule's worth well enough.
      flights.resize(flights.size() / 2);
      plan.rules = worth_of_rules(chosen, plan, flights, share_out);
      plan.sensitivities = sensitivities(chosen, plan);
    }
    answer.plan = std::move(plan);
    return true;
  });
  return answer;
}

}  // namespace glidewright

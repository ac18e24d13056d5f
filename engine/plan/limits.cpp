#include "engine/plan/limits.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

#include "engine/plan/binomial.hpp"
#include "engine/units/words.hpp"

namespace glidewright {
namespace {

constexpr double k_greatest_tailwind_kt = 5.0;

/// Height of the planned path over an obstacle's top where it is lowest beside it; none where it passes wide.
std::optional<double> above_top_ft(const Obstacle& obstacle, const std::vector<Moment>& path) {
  std::optional<double> least_ft;
  for (const Moment& moment : path) {
    const bool beside = std::hypot(moment.along_ft - obstacle.along_ft,
                                   moment.cross_ft - obstacle.cross_ft) <= k_beside_obstacle_ft;
    const double above_ft = moment.height_ft - obstacle.height_ft;
    if (beside) least_ft = std::min(above_ft, least_ft.value_or(above_ft));
  }
  return least_ft;
}

std::string obstacle_words(const Obstacle& obstacle) {
  return words("the %s %.0f ft %s the point", obstacle.what.empty() ? "obstacle" : obstacle.what.c_str(),
               std::abs(obstacle.along_ft), obstacle.along_ft < 0.0 ? "before" : "past");
}

}  // namespace

std::vector<std::string> refusals_before_flying(const PlanRequest& request) {
  std::vector<std::string> reasons;
  const Handbook& handbook = request.airplane.handbook;
  const Technique& technique = request.technique;
  const auto [headwind, from_right] =
      components(request.conditions.wind.at_10m, Degrees{request.conditions.runway_true_deg});
  const double with_gust = (request.conditions.wind.at_10m.speed + request.conditions.wind.gust).value;
  const double gust_factor = request.conditions.wind.at_10m.speed.value > 0.0
                                 ? with_gust / request.conditions.wind.at_10m.speed.value
                                 : 1.0;
  const double crosswind = std::abs(from_right.value) * gust_factor;
  if (crosswind > handbook.maximum_crosswind_kt) {
    reasons.push_back(
        words("Crosswind %.0f kt, gusts counted, is beyond the %.0f kt of the handbook: no cue.", crosswind,
              handbook.maximum_crosswind_kt));
  }
  const double tailwind_limit = std::min(k_greatest_tailwind_kt, handbook.maximum_tailwind_kt);
  const double tailwind = -headwind.value * (headwind.value < 0.0 ? gust_factor : 1.0);
  if (tailwind > tailwind_limit) {
    reasons.push_back(
        words("Tailwind %.0f kt, gusts counted, is beyond %.0f kt: use the other runway direction; no cue.",
              tailwind, tailwind_limit));
  }
  const double stall = request.airplane.polar.stall_kcas(request.conditions.weight_lb, 0.0);
  const double slowest =
      std::min({technique.downwind_speed_kt, technique.base_speed_kt, technique.final_speed_kt});
  if (slowest < 1.15 * stall) {
    reasons.push_back(
        words("A planned speed of %.0f kt is less than 1.15 times the stall at %.0f kt, flaps up: no cue.",
              slowest, stall));
  }
  if (request.conditions.weight_lb > handbook.maximum_weight_lb.value * 1.0001) {
    reasons.push_back(words("Weight %.0f lb is above the maximum of %.0f lb: no cue.",
                            request.conditions.weight_lb, handbook.maximum_weight_lb.value));
  }
  const double room_beyond_ft = request.runway_end_along_ft - request.box.high_ft;
  if (room_beyond_ft < 1.5 * handbook.ground_roll_ft.value) {
    reasons.push_back(words(
        "Only %.0f ft of runway lie beyond the box; 1.5 times the ground roll of %.0f ft is wanted: no cue.",
        std::max(0.0, room_beyond_ft), handbook.ground_roll_ft.value));
  }
  return reasons;
}

std::vector<std::string> cautions_before_flying(const PlanRequest& request) {
  std::vector<std::string> cautions;
  const auto [headwind, from_right] =
      components(request.conditions.wind.at_10m, Degrees{request.conditions.runway_true_deg});
  if (headwind.value < -0.5) {
    cautions.push_back(
        words("Tailwind %.0f kt: the glide goes far and the float is long. Consider the other direction.",
              -headwind.value));
  }
  if (std::abs(from_right.value) > 0.7 * request.airplane.handbook.maximum_crosswind_kt) {
    cautions.push_back(words("Crosswind %.0f kt is near the handbook's %.0f kt.", std::abs(from_right.value),
                             request.airplane.handbook.maximum_crosswind_kt));
  }
  if (request.conditions.wind.gust.value >= 8.0) {
    cautions.push_back(words("Gusts of %.0f kt above the wind move the touchdown by hundreds of feet.",
                             request.conditions.wind.gust.value));
  }
  return cautions;
}

std::vector<std::string> cautions_after_flying(const PlanRequest& request, const Plan& plan) {
  std::vector<std::string> cautions;
  for (const Obstacle& obstacle : request.obstacles) {
    const auto above_ft = above_top_ft(obstacle, plan.nominal.trace);
    if (!above_ft || *above_ft < 0.0 || *above_ft >= k_obstacle_clearance_ft) continue;
    cautions.push_back(
        words("The planned path clears %s by %.0f ft only; %.0f ft are wanted. A point farther "
              "down the runway gives more.",
              obstacle_words(obstacle).c_str(), *above_ft, k_obstacle_clearance_ft));
  }
  return cautions;
}

std::string no_cue_reason(const PlanRequest& request, const CueFound& found) {
  const double spacing_nm = to_nautical_miles(Feet{request.technique.spacing_ft}).value;
  if (found.always_long) {
    return words(
        "Every base turn up to a minute past abeam lands long from %.0f ft at %.2f NM: too high or too fast "
        "for this wind; no cue.",
        request.technique.pattern_height_ft, spacing_nm);
  }
  return words(
      "From %.0f ft at %.2f NM abeam the point is out of reach in this wind, or only with more than 1 flight "
      "in 200 short of the runway: fly closer or higher; no cue.",
      request.technique.pattern_height_ft, spacing_nm);
}

std::vector<std::string> refusals_after_flying(const PlanRequest& request, const Plan& plan) {
  std::vector<std::string> reasons;
  if (plan.looking_spot_ft < request.threshold_along_ft) {
    reasons.push_back(
        words("The looking spot would lie %.0f ft before the threshold: choose a point farther down the "
              "runway; no cue.",
              request.threshold_along_ft - plan.looking_spot_ft));
  }
  constexpr int flights_to_be_sure = 10000;
  // A few hundred flights cannot tell one in two hundred: then only what is surely more is refused, and
  // nothing where no cue was searched that keeps off it.
  const int flown = plan.success.flights;
  const int were_short = static_cast<int>(std::lround(plan.success.short_of_runway * flown));
  const double short_share = flown == 0                    ? 0.0
                             : flown >= flights_to_be_sure ? plan.success.short_of_runway
                                                           : clopper_pearson(were_short, flown, 0.95).low;
  if (plan.search_flights > 0 && short_share > k_most_short_of_runway) {
    reasons.push_back(
        words("With the go-around disabled %.1f flights in 100 would touch before the runway; at most 0.5 "
              "are accepted: choose a point farther down the runway; no cue.",
              100.0 * plan.success.short_of_runway));
  }
  const double farthest_ft = std::max(plan.success.high80_ft, request.box.high_ft);
  const double needed_ft = 1.5 * request.airplane.handbook.ground_roll_ft.value;
  if (request.runway_end_along_ft - farthest_ft < needed_ft) {
    reasons.push_back(
        words("One flight in ten touches %.0f ft past the point or later; %.0f ft of runway are wanted "
              "beyond that and %.0f ft are there: no cue.",
              farthest_ft, needed_ft, std::max(0.0, request.runway_end_along_ft - farthest_ft)));
  }
  for (const Obstacle& obstacle : request.obstacles) {
    const auto above_ft = above_top_ft(obstacle, plan.nominal.trace);
    if (!above_ft || *above_ft >= 0.0) continue;
    reasons.push_back(
        words("The planned path leads %.0f ft below the top of %s: choose a point farther down "
              "the runway; no cue.",
              -*above_ft, obstacle_words(obstacle).c_str()));
  }
  return reasons;
}

}  // namespace glidewright

#include "engine/debrief/causes.hpp"

#include <algorithm>
#include <cmath>

#include "engine/debrief/counterfactual.hpp"
#include "engine/units/words.hpp"

namespace glidewright {
namespace {

constexpr int k_members = 50;
constexpr std::uint64_t k_seed = 20260;
constexpr double k_two_sided_95 = 1.96;
// What point-mass flights leave open even with true inputs: gusts, mostly vertical, and the hand in the
// flare.
constexpr double k_model_sd_ft = 120.0;
constexpr double k_believable_drag = 0.30;

const char* name_of(CauseKind kind) {
  switch (kind) {
    case CauseKind::pattern:
      return "height and distance abeam";
    case CauseKind::idle:
      return "idle timing";
    case CauseKind::base_turn:
      return "base turn";
    case CauseKind::path:
      return "path to final";
    case CauseKind::flaps:
      return "flaps";
    case CauseKind::slip:
      return "slip";
    case CauseKind::wind_and_airplane:
      return "wind and airplane together";
    case CauseKind::speed:
      return "speed held, net";
    case CauseKind::flare:
      return "flare and touchdown speed";
  }
  return "";
}

std::string late_or_early(double difference_s) {
  if (std::abs(difference_s) < 0.05) return "as planned";
  return words("%.1f s %s", std::abs(difference_s), difference_s > 0.0 ? "late" : "early");
}

std::string path_words(const AttemptAsFlown& flown, double final_turn_shift_ft) {
  std::string text = std::abs(flown.base_course_deg) < 1.0
                         ? std::string("Base square")
                         : words("Base %.0f° %s the threshold", std::abs(flown.base_course_deg),
                                 flown.base_course_deg > 0.0 ? "towards" : "away from");
  const double shift_ft = tens(final_turn_shift_ft);
  if (shift_ft != 0.0) {
    text += words(", final turn begun %.0f ft %s the centreline than planned", std::abs(shift_ft),
                  shift_ft > 0.0 ? "nearer to" : "farther from");
  }
  return text + words(", %.0f° and %.0f° of bank held in the turns.", flown.base_turn_bank_deg,
                      flown.final_turn_bank_deg);
}

std::string wind_and_airplane_words(const CausesRequest& request, double drag_relative) {
  const Conditions& conditions = request.plan.conditions;
  const double head = components(conditions.wind.at_10m, Degrees{conditions.runway_true_deg}).headwind.value;
  const double more = request.wind.headwind_kt - head;
  std::string text = std::abs(more) < 0.5 ? std::string("Wind as reported")
                                          : words("%.0f kt %s headwind than reported", std::abs(more),
                                                  more > 0.0 ? "more" : "less");
  text += std::abs(drag_relative) < 0.005
              ? std::string(", drag as in the profile")
              : words(", %.0f %% %s drag than the profile", 100.0 * std::abs(drag_relative),
                      drag_relative > 0.0 ? "more" : "less");
  const bool flaps_known = request.flown.flaps.has_value(), slip_known = request.flown.slip_known;
  if (!flaps_known && !slip_known) text += " (flap and slip were not recorded and are in it)";
  if (!flaps_known && slip_known) text += " (the flaps were not recorded and are in it)";
  if (flaps_known && !slip_known) text += " (a slip was not recorded and would be in it)";
  return text + "; not to be told apart.";
}

std::string slip_words(const std::optional<SlipStep>& slip, const std::optional<SlipStep>& planned) {
  const auto from_to = [](const SlipStep& one) {
    return words("from %.0f to %.0f ft", tens(one.in_height_ft), tens(one.out_height_ft));
  };
  if (slip && planned) return "Slipped " + from_to(*slip) + "; plan " + from_to(*planned) + ".";
  if (slip) return "Slipped " + from_to(*slip) + "; the plan has none.";
  return planned ? "No slip; the plan has one " + from_to(*planned) + "."
                 : std::string("No slip, as planned.");
}

std::string sentence_for(CauseKind kind, const CausesRequest& request, const CounterfactualFlights& flights) {
  const AttemptAsFlown& flown = request.flown;
  const Technique& planned = request.plan.technique;
  switch (kind) {
    case CauseKind::pattern:
      return words("Abeam at %.0f ft, %.2f NM out, %.0f kt; plan %.0f ft, %.2f NM, %.0f kt.",
                   tens(flown.pattern_height_ft), to_nautical_miles(Feet{flown.spacing_ft}).value,
                   flown.pattern_speed_kt, tens(planned.pattern_height_ft),
                   to_nautical_miles(Feet{planned.spacing_ft}).value, planned.pattern_speed_kt);
    case CauseKind::idle:
      return "Idle " + late_or_early(flown.idle_s->value - planned.idle_s_after_abeam) + ".";
    case CauseKind::base_turn:
      return "Base turn " + late_or_early(flown.base_turn_s.value - request.planned_cue_s) +
             words(": %.1f s past abeam; plan %.1f.", flown.base_turn_s.value, request.planned_cue_s);
    case CauseKind::path:
      return path_words(flown, flights.final_turn_shift_ft());
    case CauseKind::flaps: {
      if (flown.flaps->empty()) return "No flap was set.";
      std::string text = "Flap";
      for (const auto& step : *flown.flaps)
        text += words(" %.0f° at %.0f ft,", step.setting_deg, step.height_ft);
      text.back() = '.';
      return text;
    }
    case CauseKind::slip:
      return slip_words(flown.slip, planned.slip);
    case CauseKind::wind_and_airplane:
      return wind_and_airplane_words(request, flights.drag_relative());
    case CauseKind::speed:
      return words(
          "Base %.0f, final %.0f, short final %.0f kt; plan %.0f, %.0f, %.0f. Nose lowered and float are one "
          "cause.",
          flown.base_speed_kt.value, flown.final_speed_kt.value, flown.short_final_speed_kt.value,
          planned.base_speed_kt, planned.final_speed_kt, planned.short_final_speed_kt);
    case CauseKind::flare:
      return words("Touched at %.0f kt; plan %.0f.", flown.touchdown_speed_kt.value,
                   flights.planned_touchdown_speed_kt());
  }
  return "";
}

double sd_of(const std::vector<double>& values) {
  double mean = 0.0, sum = 0.0;
  for (const double v : values) mean += v / static_cast<double>(values.size());
  for (const double v : values) sum += (v - mean) * (v - mean);
  return std::sqrt(sum / static_cast<double>(values.size() - 1));
}

/// Spread of every cause, and of the model's touchdown with everything as flown, over the posterior's
/// members.
struct Spread {
  std::vector<double> share_sd_ft;
  double touchdown_sd_ft = 0.0;
};

Spread spread_over_members(const CausesRequest& request, const CounterfactualFlights& middle) {
  const std::size_t count = middle.kinds().size();
  std::vector<std::vector<double>> shares(count);
  std::vector<double> touchdowns;
  const auto sets = first_and_last_sets(static_cast<int>(count));
  for (int member = 0; member < k_members; ++member) {
    const CounterfactualFlights flights(drawn(request, k_seed, static_cast<std::uint64_t>(member)), middle);
    const auto values = flights.touchdowns_ft(sets);
    const auto one = first_and_last_shares(static_cast<int>(count), values);
    for (std::size_t i = 0; i < count; ++i) shares[i].push_back(one[i]);
    touchdowns.push_back(values.back());
  }
  Spread spread;
  for (const auto& one : shares) spread.share_sd_ft.push_back(sd_of(one));
  spread.touchdown_sd_ft = sd_of(touchdowns);
  return spread;
}

bool believable(const CounterfactualFlights& flights) {
  return std::abs(flights.drag_relative()) <= k_believable_drag;
}

std::string not_believable_words(const CounterfactualFlights& flights) {
  return words(
      "The model would need %.0f %% %s drag to fly this approach, which is not believable: power, a long "
      "slip or "
      "moving air. No causes.",
      100.0 * std::abs(flights.drag_relative()), flights.drag_relative() > 0.0 ? "more" : "less");
}

Causes causes_of(const CausesRequest& request, const CounterfactualFlights& flights, const Spread& spread) {
  Causes result;
  const auto count = flights.kinds().size();
  const auto touchdowns_ft = flights.touchdowns_ft(all_sets(static_cast<int>(count)));
  const auto shares = shapley_shares(static_cast<int>(count), touchdowns_ft);
  result.planned_touchdown_ft = touchdowns_ft.front();
  for (std::size_t i = 0; i < count; ++i) {
    const double half_width = k_two_sided_95 * std::max(spread.share_sd_ft[i], 5.0);
    result.causes.push_back({name_of(flights.kinds()[i]), shares[i], shares[i] - half_width,
                             shares[i] + half_width, sentence_for(flights.kinds()[i], request, flights)});
  }
  if (request.touchdown) {
    result.unexplained_ft = request.touchdown->along_ft - touchdowns_ft.back();
    const double half_width =
        k_two_sided_95 * std::hypot(request.touchdown->along_sd_ft(), spread.touchdown_sd_ft, k_model_sd_ft);
    result.unexplained_low95_ft = result.unexplained_ft - half_width;
    result.unexplained_high95_ft = result.unexplained_ft + half_width;
  }
  return result;
}

}  // namespace

Causes find_causes(const CausesRequest& request) {
  const CounterfactualFlights flights(request);
  if (believable(flights)) return causes_of(request, flights, spread_over_members(request, flights));
  Causes none;
  none.not_offered_because = not_believable_words(flights);
  return none;
}

GoAroundExplained explain_go_around(const CausesRequest& request, bool was_sent_around) {
  GoAroundExplained explained;
  if (was_sent_around) explained.causes.not_offered_because = "Sent around: nothing was missed.";
  const CounterfactualFlights flights(request);
  if (!believable(flights)) {
    if (!was_sent_around) explained.causes.not_offered_because = not_believable_words(flights);
    return explained;
  }
  const Spread spread = spread_over_members(request, flights);
  const double along = flights.touchdowns_ft({flights.all()}).front();
  const double half_width = k_two_sided_95 * std::hypot(spread.touchdown_sd_ft, k_model_sd_ft);
  Touchdown& projected = explained.projected.emplace();
  projected.along_ft = along;
  projected.low95_ft = along - half_width;
  projected.high95_ft = along + half_width;
  projected.basis = "by the model, from the go-around on with the plan's remaining decisions";
  if (!was_sent_around) explained.causes = causes_of(request, flights, spread);
  return explained;
}

}  // namespace glidewright

#include "apps/cli/words/brief_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <cmath>

#include "engine/air/atmosphere.hpp"
#include "engine/units/words.hpp"
#include "formats/words/numbers.hpp"
#include "formats/words/sentences.hpp"

namespace glidewright {
namespace {

constexpr int k_label_columns = 12;

/// Said where it is the airplane's own and not the usual one.
std::string glide_spread_words(const PlanRequest& request) {
  const auto& fitted = request.airplane.handbook.fitted;
  if (!fitted) return {};
  int glides = 0;
  for (const auto& log : fitted->logs) glides += log.glides;
  return fmt::format("; {} logged glides leave its drag open by {:.1f} %", whole(glides),
                     100.0 * request.scatter.glide_relative);
}

std::string inputs_text(const Brief& brief, const Page& page) {
  const auto& request = brief.request;
  const auto& conditions = request.conditions;
  std::string text = labelled(
      "Runway",
      fmt::format("{}: {:.0f}° true, elevation {} ft, {} ft long, {}-hand traffic", runway_name(brief.runway),
                  brief.runway.true_bearing.value, whole(brief.runway.elevation.value),
                  whole(brief.runway.length.value), traffic_name(conditions.traffic)),
      page);
  text += labelled("Airplane",
                   fmt::format("{}, {} lb{}", request.airplane.name, whole(conditions.weight_lb),
                               glide_spread_words(request)),
                   page);
  std::string wind = wind_words(conditions.wind);
  if (conditions.wind.at_10m.speed.value >= 0.5) {
    wind += ": " + components_words(conditions.wind.at_10m, Degrees{conditions.runway_true_deg});
  }
  if (brief.dry_run && brief.dry_run->correction.told == DryRunTold::something) {
    wind += "; as the dry run corrects it";
  }
  text += labelled("Wind", wind, page);
  text += labelled(
      "Air",
      fmt::format("{} °C, altimeter setting {:.0f} hPa ({:.2f} inHg), density altitude {} ft",
                  whole(brief.temperature_c), brief.altimeter_hpa,
                  to_inches_of_mercury(Hectopascals{brief.altimeter_hpa}).value,
                  whole(std::round(density_altitude(conditions.density_ratio).value / 100.0) * 100.0)),
      page);
  text += labelled(
      "Pattern",
      fmt::format("idle abeam the point at {} ft above the field, {:.2f} NM out, {:.0f} kt; the point "
                  "is {} ft past the threshold",
                  whole(request.technique.pattern_height_ft),
                  to_nautical_miles(Feet{request.technique.spacing_ft}).value,
                  request.technique.pattern_speed_kt, whole(brief.touchdown_point.value)),
      page);
  return text + labelled("Standard",
                         fmt::format("{}: touch down {} past the point", brief.standard_name,
                                     box_words(request.box)),
                         page);
}

std::string expected_height(const Plan& plan, const std::string& at) {
  const auto found = std::find_if(plan.key_points.begin(), plan.key_points.end(),
                                  [&](const ExpectedHeight& height) { return height.at == at; });
  return found == plan.key_points.end() ? "–" : feet(found->height_ft) + " ft";
}

std::string six_numbers(const Plan& plan) {
  const auto line = [](const std::string& number, const std::string& words, char mark) {
    return "  " + inked(mark, padded_left(number, 10)) + "  " + words + '\n';
  };
  const double gust = plan.speeds.gust_addition_kt;
  std::string text = heading("Six numbers to say");
  text += line(fmt::format("{:.0f} s", plan.cue.seconds_past_abeam),
               fmt::format("past abeam, turn base ({} ft past)", feet(plan.cue.distance_past_abeam_ft)),
               ink::k_strong);
  text += line(whole(plan.cue.angle_behind_wing_deg) + "°",
               fmt::format("behind the wing, the point ({})", crab_words(plan.cue)), ink::k_strong);
  text += line(expected_height(plan, "base turn"), "at the base turn, above the field", ink::k_strong);
  text += line(expected_height(plan, "final turn"), "at the final turn, above the field", ink::k_strong);
  text += line(
      fmt::format("{:.0f} kt", plan.speeds.final_kcas),
      gust > 0.0 ? fmt::format("on final, {:.0f} kt for the gust in it", gust) : "on final, no gust to add",
      ink::k_strong);
  return text + line(feet(plan.gate_altimeter_ft) + " ft", "altimeter at the gate", ink::k_strong);
}

std::string gate_text(const Brief& brief, const Plan& plan, const Page& page) {
  const auto& technique = brief.request.technique;
  std::string text = heading(
      fmt::format("Gate, {:.0f} ft above the field: all of these, or go around", technique.gate_height_ft));
  return text + wrapped(gate_conditions(plan) + " Any one missing: go around.", {2, 2}, page);
}

std::string flaps_text(const Brief& brief, const Plan& plan, const Page& page) {
  std::string text = heading("Flaps and where to look");
  for (const auto& flap : plan.flaps) {
    text += fmt::format("  {}  {}; {}\n", padded_right(fmt::format("Flap {:.0f}°", flap.setting_deg), 10),
                        flap.at, flap.rule);
  }
  if (const auto slip = slip_rule(brief.request); !slip.empty())
    text += "  " + padded_right("Slip", 12) + wrapped(slip, {14, 14}, page).substr(14);
  const double spot = plan.looking_spot_ft;
  text += fmt::format("  {}  a spot {} ft {} the point\n", padded_right("Look at", 10), feet(std::abs(spot)),
                      spot < 0.0 ? "short of" : "beyond");
  return text +
         fmt::format(
             "  {}  {:.0f} kt to the base turn, {:.0f} on base, {:.0f} on final, {:.0f} over the fence\n",
             padded_right("Speeds", 10), plan.speeds.downwind_kcas, plan.speeds.base_kcas,
             plan.speeds.final_kcas, plan.speeds.short_final_kcas);
}

std::string heights_text(const Brief& brief, const Plan& plan, const Page& page) {
  std::string text = heading(
      "Heights to expect",
      "ft above the field; low to high holds two in three that made it; in reach in nine of ten winds", page);
  text += inked(ink::k_faint,
                fmt::format("  {:<18}{:>8}{:>9}{:>8}{:>20}", "", "plan", "low", "high", "in reach")) +
          '\n';
  for (const auto& height : plan.key_points) {
    const bool closes = height.low_ft == height.high_ft;
    const auto room = sure_room_at(brief, height.at);
    text += fmt::format(
        "  {}{}{}{}{}\n", padded_right(capitalised(height.at), 18), padded_left(feet(height.height_ft), 8),
        padded_left(closes ? "–" : feet(height.low_ft), 9),
        padded_left(closes ? "–" : feet(height.high_ft), 8),
        padded_left(room ? feet(room->lowest_ft) + " to " + feet(room->by_slip_ft) : "–", 20));
  }
  return text;
}

std::string cue_shift_words(double cue_s) {
  if (std::abs(cue_s) < 0.05) return {};
  return fmt::format("turn {:.1f} s {}", std::abs(cue_s), cue_s < 0.0 ? "sooner" : "later");
}

std::string sensitivities_text(const Plan& plan, const Page& page) {
  if (plan.sensitivities.empty()) return {};
  std::string text = heading("If it is a little different", "touchdown, nothing else corrected", page);
  for (const auto& one : plan.sensitivities) {
    const std::string shift = one.cue_s ? cue_shift_words(*one.cue_s) : "";
    text += "  " + padded_right(capitalised(one.change), 36) +
            padded_left(signed_feet(one.touchdown_ft) + " ft", 9) + (shift.empty() ? "" : "    " + shift) +
            '\n';
  }
  return text;
}

/// Why the cue is not the one with which nothing needs answering.
std::string robust_words(const Plan& plan) {
  const double earlier_s = plan.unanswered_cue_s - plan.cue.seconds_past_abeam;
  if (std::abs(earlier_s) < 0.25) return {};
  return fmt::format(
      "Turned {:.1f} s {}, {:.1f} s past abeam, an approach exactly as planned would have nothing to answer; "
      "of {} "
      "flights with other cues and flap schedules this one landed most in the box.",
      std::abs(earlier_s), earlier_s > 0.0 ? "later" : "sooner", plan.unanswered_cue_s,
      whole(plan.search_flights));
}

std::string odds_text(const Plan& plan, const Page& page) {
  constexpr double k_clear = 0.05;  // one flight in twenty: less is not worth a side
  const auto& success = plan.success;
  std::string text = heading("Where it would land",
                             fmt::format("{} flights of the model over wind, airplane and "
                                         "pilot",
                                         whole(success.flights)),
                             page);
  text += wrapped(
      fmt::format("{} in the box and stable at the gate; {} go around. A second early {}, a second late "
                  "{}{}.",
                  chance_in_20(success.in_box), chance_in_20(success.go_around),
                  chance_in_20(success.in_box_second_early), chance_in_20(success.in_box_second_late),
                  success.in_box_second_early > success.in_box_second_late + k_clear   ? ": err early"
                  : success.in_box_second_late > success.in_box_second_early + k_clear ? ": err late"
                                                                                       : ""),
      {2, 2}, page);
  if (const auto robust = robust_words(plan); !robust.empty()) text += wrapped(robust, {2, 2}, page);
  return text +
         wrapped(fmt::format("Planned touchdown {} ft; eight in ten between {} and {} ft past the point.",
                             signed_feet(plan.planned_touchdown_ft), signed_feet(success.low80_ft),
                             signed_feet(success.high80_ft)),
                 {2, 2}, page);
}

/// "Base turn above 980 ft: square off base, away from the threshold (30 in 100 in the box; without it 16)."
std::string rule_line(const RuleWorth& rule, const Page& page) {
  const std::string with = whole(100.0 * rule.in_box_followed),
                    without = whole(100.0 * rule.in_box_not_followed);
  const std::string where = rule.when == "always" ? capitalised(rule.rule)
                                                  : capitalised(rule.at) + ' ' + rule.when + ": " + rule.rule;
  return wrapped(fmt::format("{} ({} in 100 in the box, without {})", where, with, without), {2, 4}, page);
}

/// Only those that were shown to help: what may hurt is no rule to print.
std::string rules_text(const Plan& plan, const Page& page) {
  std::string lines;
  std::string unproved;
  for (const auto& rule : plan.rules) {
    if (rule.shown_to_help()) {
      lines += rule_line(rule, page);
    } else if (rule.flights > 0) {
      unproved += (unproved.empty() ? "" : "; ") + rule.at + ", " + rule.when + ": " + rule.rule;
    }
  }
  if (lines.empty() && unproved.empty()) return {};
  std::string text =
      heading("If above, if below", "the same flights with the rule and without", page) + lines;
  if (!unproved.empty()) text += wrapped("Not shown to help in this wind: " + unproved + ".", {2, 2}, page);
  return text;
}

std::string belief_words(const BeliefChange& change, double scale, const char* unit) {
  const auto one = [&](const Belief& belief) {
    return fmt::format("{} ± {}", decimal(scale * belief.value, 1), decimal(scale * belief.sd, 1));
  };
  return fmt::format("{} {}, before {}", one(change.after), unit, one(change.before));
}

std::string power_words(PowerUsed power) {
  switch (power) {
    case PowerUsed::none:
      return "no power";
    case PowerUsed::assisted:
      return "power-assisted";
    case PowerUsed::unknown:
      break;
  }
  return "not known whether with power";
}

/// What is done about it, and why.
std::string dry_run_verdict(const DryRunBrief& dry_run, const PlanAnswer& answer) {
  const DryRunCorrection& found = dry_run.correction;
  if (found.told == DryRunTold::does_not_fit) {
    return "No wind and airplane that are likely today land there. Something else was different (power, "
           "flap, "
           "the cue, the runway's point): find it first. The plan is unchanged.";
  }
  if (!answer.plan) return "With what it tells no plan is offered.";
  if (found.told == DryRunTold::little) {
    return "This landing tells almost nothing about wind or airplane: the plan is unchanged.";
  }
  const double cue_s = answer.plan->cue.seconds_past_abeam;
  if (!dry_run.cue_before_s) return fmt::format("With what it tells, turn base {:.1f} s past abeam.", cue_s);
  const double shift_s = cue_s - *dry_run.cue_before_s;
  if (std::abs(shift_s) < 0.25) return fmt::format("Turn base as before, {:.1f} s past abeam.", cue_s);
  return fmt::format("Turn base {:.1f} s {}: {:.1f} s past abeam, before {:.1f}.", std::abs(shift_s),
                     shift_s < 0.0 ? "sooner" : "later", cue_s, *dry_run.cue_before_s);
}

std::string dry_run_text(const DryRunBrief& dry_run, const PlanAnswer& answer, const Page& page) {
  const DryRunCorrection& found = dry_run.correction;
  const std::string turned = dry_run.flown.base_turn_s
                                 ? fmt::format("base turned {:.1f} s past abeam", *dry_run.flown.base_turn_s)
                                 : std::string("base taken as turned on the plan's cue");
  std::string text = heading("Dry run", dry_run.source, page);
  text += wrapped(
      fmt::format("Landed {} ft, {}, {}; expected {} ± {} ft.", signed_feet(dry_run.flown.landed_ft),
                  power_words(dry_run.flown.power), turned, signed_feet(found.expected_touchdown_ft.value),
                  feet(found.expected_touchdown_ft.sd)),
      {2, 2}, page);
  text += wrapped(dry_run_verdict(dry_run, answer), {2, 2}, page);
  if (found.told != DryRunTold::something) return text;
  text += fmt::format("  {}{}\n", padded_right("Headwind", 18), belief_words(found.headwind_kt, 1.0, "kt"));
  text += fmt::format("  {}{}\n", padded_right("From the right", 18),
                      belief_words(found.crosswind_from_right_kt, 1.0, "kt"));
  text += fmt::format("  {}{}\n", padded_right("Drag", 18),
                      belief_words(found.drag_relative, 100.0, "% over the profile"));
  return text;
}

std::string plan_text(const Brief& brief, const Plan& plan, const Page& page) {
  return six_numbers(plan) + gate_text(brief, plan, page) + flaps_text(brief, plan, page) +
         heights_text(brief, plan, page) + rules_text(plan, page) + odds_text(plan, page) +
         sensitivities_text(plan, page);
}

std::string refusal_text(const std::vector<std::string>& refusals, const Page& page) {
  std::string text = heading("No plan is offered");
  for (const auto& reason : refusals) text += wrapped(reason, {2, 2}, page);
  return text;
}

std::string before_use_text(const std::vector<std::string>& cautions, const Page& page) {
  std::string text = heading("Before you use this");
  for (const auto& caution : cautions) text += wrapped(caution, {2, 2}, page);
  return text + wrapped(safety_sentence(), {2, 2}, page);
}

}  // namespace

std::string heading(const std::string& title) {
  return '\n' + inked(ink::k_strong, title) + '\n';
}

std::string heading(const std::string& title, const std::string& note, const Page& page) {
  const std::string faint = inked(ink::k_faint, note);
  if (columns(title) + 3 + columns(note) > page.width) return heading(title) + wrapped(faint, {2, 2}, page);
  return '\n' + inked(ink::k_strong, title) + "   " + faint + '\n';
}

std::string labelled(const std::string& label, const std::string& text, const Page& page) {
  const std::string beside = wrapped(text, {k_label_columns, k_label_columns}, page);
  return inked(ink::k_faint, padded_right(label, k_label_columns)) + beside.substr(k_label_columns);
}

std::string runway_name(const Runway& runway) {
  std::string name = runway.airfield;
  if (!runway.designator.empty()) name += (name.empty() ? "runway " : ", runway ") + runway.designator;
  return name.empty() ? "as given" : name;
}

std::string assumed_text(const std::vector<std::string>& assumed, const Page& page) {
  if (assumed.empty()) return {};
  std::string list;
  for (const auto& one : assumed) list += (list.empty() ? "" : "; ") + one;
  if (list.back() != '.') list += '.';
  return heading("Assumed, or taken from a report") + wrapped(capitalised(list), {2, 2}, page);
}

std::string brief_text(const Brief& brief, const Page& page) {
  std::string text = inputs_text(brief, page);
  if (brief.dry_run) text += dry_run_text(*brief.dry_run, brief.answer, page);
  text += brief.answer.plan ? plan_text(brief, *brief.answer.plan, page)
                            : refusal_text(brief.answer.refusals, page);
  text += assumed_text(brief.answer.assumed, page);
  return text + before_use_text(brief.answer.cautions, page);
}

}  // namespace glidewright

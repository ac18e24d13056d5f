#include "formats/report/card_contents.hpp"

#include <fmt/format.h>

#include <cmath>

#include "engine/units/words.hpp"
#include "formats/words/numbers.hpp"
#include "formats/words/sentences.hpp"

namespace glidewright::report {
namespace {

/// Altimeter, feet above sea level, at a height above the point.
std::string altimeter(const Brief& brief, const Plan& plan, double height_ft) {
  const double field_ft = plan.gate_altimeter_ft - brief.request.technique.gate_height_ft;
  return feet(field_ft + height_ft);
}

std::vector<Rung> ladder(const Brief& brief, const Plan& plan) {
  std::vector<Rung> rungs;
  for (const ExpectedHeight& height : plan.key_points) {
    const bool said = height.at == "base turn" || height.at == "final turn" || height.at == "gate";
    const auto room = sure_room_at(brief, height.at);
    rungs.push_back(
        {said,
         {capitalised(height.at), altimeter(brief, plan, height.height_ft), feet(height.height_ft),
          room ? feet(room->lowest_ft) + "–" + feet(room->by_slip_ft) : ""}});
  }
  return rungs;
}

std::vector<WindCue> winds(const std::vector<CueAtWind>& other_winds, double headwind_kt) {
  std::vector<WindCue> cues;
  for (const CueAtWind& one : other_winds)
    cues.push_back({whole(one.headwind_kt) + " kt", one.cue_s ? fmt::format("{:.0f} s", *one.cue_s) : "–",
                    std::abs(one.headwind_kt - headwind_kt) <= 0.5});
  return cues;
}

/// "1 s late to turn base −230 ft" of the first few that a pilot can act on.
Runs shifts(const Plan& plan) {
  Runs runs;
  for (const Sensitivity& one : plan.sensitivities) {
    const bool kept = one.change.find("late to turn base") != std::string::npos ||
                      one.change.find("fast on final") != std::string::npos ||
                      one.change.find("higher abeam") != std::string::npos;
    if (!kept) continue;
    runs.push_back({(runs.empty() ? "" : " · ") + capitalised(one.change) + " "});
    runs.push_back({signed_feet(one.touchdown_ft) + " ft", Tone::strong});
  }
  return runs;
}

/// "Base turn above 990 ft: square off base." Heights above the field; only what was shown to help.
Runs rules(const Plan& plan) {
  Runs runs;
  for (const RuleWorth& rule : plan.rules) {
    if (!rule.shown_to_help() || rule.when == "always") continue;
    runs.push_back({capitalised(rule.at) + " " + rule.when, Tone::strong});
    runs.push_back({": " + rule.rule + ". "});
  }
  return runs;
}

std::vector<Runs> how_to_fly(const Brief& brief, const Plan& plan) {
  std::vector<Runs> lines;
  lines.push_back({{whole(plan.speeds.final_kcas) + " kt", Tone::strong},
                   {" on final. Look " + feet(std::abs(plan.looking_spot_ft)) +
                    (plan.looking_spot_ft < 0.0 ? " ft short" : " ft beyond") + " of the point."}});
  for (const FlapAdvice& flap : plan.flaps)
    lines.push_back({{fmt::format("Flap {:.0f}° {}; {}.", flap.setting_deg, flap.at, flap.rule)}});
  if (const std::string rule = slip_rule(brief.request); !rule.empty())
    lines.push_back({{"Slip " + rule + "."}});
  return lines;
}

PlannedCard planned_card(const Brief& brief, const Plan& plan, const std::vector<CueAtWind>& other_winds) {
  const Degrees landing{brief.request.conditions.runway_true_deg};
  PlannedCard card;
  card.cue[0] = {
      {"Turn base", Tone::strong}, fmt::format("{:.0f}", plan.cue.seconds_past_abeam), "s", "past abeam", ""};
  card.cue[1] = {{"outside first"},
                 whole(plan.cue.angle_behind_wing_deg) + "°",
                 "",
                 "behind the wing",
                 crab_words(plan.cue)};
  card.ladder_header = {"Place", "altimeter", "above field", "in reach"};
  card.ladder = ladder(brief, plan);
  if (brief.band)
    card.ladder_note =
        "In reach: the box can be made from there in nine of ten winds; a cross-check, outside first.";
  card.how_to_fly = how_to_fly(brief, plan);
  card.rules = rules(plan);
  card.strip_title = "Energy strip: ft above the point, ft to go";
  card.sketch_title = "Ground sketch";
  card.gate = {"Gate", fmt::format("{:.0f} ft above the field", brief.request.technique.gate_height_ft),
               feet(plan.gate_altimeter_ft), gate_conditions(plan), "Any one missing: go around."};
  card.winds_title = "If the wind along the runway is";
  card.winds = winds(other_winds, components(brief.request.conditions.wind.at_10m, landing).headwind.value);
  card.shifts = shifts(plan);
  card.odds = {{"In the box " + chance_in_20(plan.success.in_box), Tone::strong},
               {"; a second early " + chance_in_20(plan.success.in_box_second_early) + ", late " +
                chance_in_20(plan.success.in_box_second_late) + "."}};
  card.marks_title = "Mark each touchdown";
  card.marks_about = "a stroke where the wheels met; G for a go-around; ft past the point";
  return card;
}

}  // namespace

CardContents card_contents(const Brief& brief, const std::vector<CueAtWind>& other_winds) {
  const Conditions& conditions = brief.request.conditions;
  CardContents card;
  card.name = brief.runway.airfield.empty() ? brief.runway.designator
                                            : brief.runway.airfield + " " + brief.runway.designator;
  card.traffic = std::string(traffic_name(conditions.traffic)) + "-hand";
  card.wind = {{wind_words(conditions.wind), Tone::strong}};
  if (conditions.wind.at_10m.speed.value >= 0.5)
    card.wind.push_back(
        {" " + components_words(conditions.wind.at_10m, Degrees{conditions.runway_true_deg})});
  card.about = fmt::format("{}, {} lb; {} °C, {:.0f} hPa ({:.2f} inHg)", brief.request.airplane.name,
                           whole(conditions.weight_lb), whole(brief.temperature_c), brief.altimeter_hpa,
                           to_inches_of_mercury(Hectopascals{brief.altimeter_hpa}).value);
  if (brief.answer.plan) card.planned = planned_card(brief, *brief.answer.plan, other_winds);
  card.no_plan = "No plan is offered";
  card.refusals = brief.answer.refusals;
  card.cautions = brief.answer.cautions;
  card.safety_sentence = safety_sentence();
  return card;
}

}  // namespace glidewright::report

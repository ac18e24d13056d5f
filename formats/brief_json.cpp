#include "formats/brief_json.hpp"

#include "engine/air/atmosphere.hpp"
#include "formats/band_json.hpp"
#include "formats/technique_json.hpp"
#include "formats/words/sentences.hpp"

namespace glidewright {
namespace {

Json airplane_to_json(const PlanRequest& request) {
  return {{"id", request.airplane.id},
          {"name", request.airplane.name},
          {"weight_lb", number(request.conditions.weight_lb, 0)},
          {"drag_sd_relative", number(request.scatter.glide_relative, 4)}};
}

Json air_to_json(const Brief& brief) {
  return {{"temperature_c", number(brief.temperature_c, 1)},
          {"altimeter_hpa", number(brief.altimeter_hpa, 2)},
          {"density_altitude_ft", number(density_altitude(brief.request.conditions.density_ratio).value, 0)}};
}

Json pattern_to_json(const PlanRequest& request) {
  return {{"height_ft", number(request.technique.pattern_height_ft, 0)},
          {"spacing_nm", number(to_nautical_miles(Feet{request.technique.spacing_ft}).value, 3)},
          {"speed_kcas", number(request.technique.pattern_speed_kt, 0)},
          {"traffic", traffic_name(request.conditions.traffic)}};
}

Json cue_to_json(const Cue& cue) {
  return {{"seconds_past_abeam", number(cue.seconds_past_abeam, 1)},
          {"distance_past_abeam_ft", number(cue.distance_past_abeam_ft, 0)},
          {"angle_past_abeam_deg", number(cue.angle_past_abeam_deg, 1)},
          {"angle_behind_wing_deg", number(cue.angle_behind_wing_deg, 1)}};
}

Json rules_to_json(const std::vector<RuleWorth>& rules) {
  Json list = Json::array();
  for (const auto& rule : rules) {
    list.push_back({{"at", rule.at},
                    {"when", rule.when},
                    {"rule", rule.rule},
                    {"flights", rule.flights},
                    {"in_box_followed", number(rule.in_box_followed, 4)},
                    {"in_box_not_followed", number(rule.in_box_not_followed, 4)},
                    {"gain", number(rule.gain, 4)},
                    {"gain_low95", number(rule.gain_low95, 4)},
                    {"gain_high95", number(rule.gain_high95, 4)}});
  }
  return list;
}

Json key_points_to_json(const Brief& brief, const std::vector<ExpectedHeight>& heights) {
  Json list = Json::array();
  for (const auto& expected : heights) {
    const auto room = sure_room_at(brief, expected.at);
    list.push_back({{"at", expected.at},
                    {"height_ft", number(expected.height_ft, 0)},
                    {"low_ft", number(expected.low_ft, 0)},
                    {"high_ft", number(expected.high_ft, 0)},
                    {"reach_low_ft", room ? number(room->lowest_ft, 0) : Json(nullptr)},
                    {"reach_high_ft", room ? number(room->by_slip_ft, 0) : Json(nullptr)}});
  }
  return list;
}

Json flaps_to_json(const std::vector<FlapAdvice>& flaps) {
  Json list = Json::array();
  for (const auto& flap : flaps) {
    list.push_back({{"at", flap.at}, {"setting_deg", number(flap.setting_deg, 1)}, {"rule", flap.rule}});
  }
  return list;
}

Json speeds_to_json(const PlanSpeeds& speeds) {
  return {{"pattern_kcas", number(speeds.pattern_kcas, 1)},
          {"downwind_kcas", number(speeds.downwind_kcas, 1)},
          {"base_kcas", number(speeds.base_kcas, 1)},
          {"final_kcas", number(speeds.final_kcas, 1)},
          {"short_final_kcas", number(speeds.short_final_kcas, 1)},
          {"gust_addition_kt", number(speeds.gust_addition_kt, 1)},
          {"best_glide_kcas", number(speeds.best_glide_kcas, 1)},
          {"stall_landing_kcas", number(speeds.stall_landing_kcas, 1)},
          {"source", speeds.source}};
}

Json success_to_json(const Success& success) {
  return {{"probability", number(success.in_box.probability, 4)},
          {"low95", number(success.in_box.low95, 4)},
          {"high95", number(success.in_box.high95, 4)},
          {"short_of_runway", number(success.short_of_runway, 4)},
          {"probability_second_early", number(success.in_box_second_early, 4)},
          {"probability_second_late", number(success.in_box_second_late, 4)},
          {"go_around", number(success.go_around, 4)},
          {"median_touchdown_ft", number(success.median_touchdown_ft, 0)},
          {"low80_ft", number(success.low80_ft, 0)},
          {"high80_ft", number(success.high80_ft, 0)},
          {"flights", success.flights}};
}

Json sensitivities_to_json(const std::vector<Sensitivity>& sensitivities) {
  Json list = Json::array();
  for (const auto& one : sensitivities) {
    list.push_back({{"change", one.change},
                    {"touchdown_ft", number(one.touchdown_ft, 0)},
                    {"cue_s", one.cue_s ? number(*one.cue_s, 2) : Json(nullptr)}});
  }
  return list;
}

const char* power_name(PowerUsed power) {
  switch (power) {
    case PowerUsed::none:
      return "none";
    case PowerUsed::assisted:
      return "assisted";
    case PowerUsed::unknown:
      break;
  }
  return "unknown";
}

const char* told_name(DryRunTold told) {
  switch (told) {
    case DryRunTold::something:
      return "something";
    case DryRunTold::little:
      return "little";
    case DryRunTold::does_not_fit:
      break;
  }
  return "does-not-fit";
}

Json change_to_json(const BeliefChange& change, int decimals) {
  return {{"before", number(change.before.value, decimals)},
          {"before_sd", number(change.before.sd, decimals)},
          {"after", number(change.after.value, decimals)},
          {"after_sd", number(change.after.sd, decimals)}};
}

Json dry_run_to_json(const DryRunBrief& dry_run, const std::optional<Plan>& plan) {
  const DryRunCorrection& found = dry_run.correction;
  return {{"source", dry_run.source},
          {"landed_ft", number(dry_run.flown.landed_ft, 0)},
          {"landed_sd_ft", number(dry_run.flown.landed_sd_ft, 0)},
          {"power", power_name(dry_run.flown.power)},
          {"base_turn_s",
           number(dry_run.flown.base_turn_s ? *dry_run.flown.base_turn_s : *dry_run.cue_before_s, 1)},
          {"expected_ft", number(found.expected_touchdown_ft.value, 0)},
          {"expected_sd_ft", number(found.expected_touchdown_ft.sd, 0)},
          {"told", told_name(found.told)},
          {"headwind_kt", change_to_json(found.headwind_kt, 1)},
          {"crosswind_from_right_kt", change_to_json(found.crosswind_from_right_kt, 1)},
          {"drag_relative", change_to_json(found.drag_relative, 3)},
          {"cue_before_s", dry_run.cue_before_s ? number(*dry_run.cue_before_s, 1) : Json(nullptr)},
          {"cue_after_s", plan ? number(plan->cue.seconds_past_abeam, 1) : Json(nullptr)}};
}

void add_plan(Json& object, const Brief& brief) {
  const Plan& plan = *brief.answer.plan;
  object["cue"] = cue_to_json(plan.cue);
  object["unanswered_cue_s"] = number(plan.unanswered_cue_s, 1);
  object["technique"] = technique_to_json(plan.technique);
  object["key_points"] = key_points_to_json(brief, plan.key_points);
  object["flaps"] = flaps_to_json(plan.flaps);
  object["speeds"] = speeds_to_json(plan.speeds);
  object["looking_spot_ft"] = number(plan.looking_spot_ft, 0);
  object["gate_altimeter_ft"] = number(plan.gate_altimeter_ft, 0);
  object["planned_touchdown_ft"] = number(plan.planned_touchdown_ft, 0);
  object["success"] = plan.success.flights > 0 ? success_to_json(plan.success) : Json(nullptr);
  object["search_flights"] = plan.search_flights;
  object["rules"] = rules_to_json(plan.rules);
  object["slip_rule"] = slip_rule(brief.request);
  object["sensitivities"] = sensitivities_to_json(plan.sensitivities);
}

void add_no_plan(Json& object) {
  for (const char* key :
       {"cue", "unanswered_cue_s", "technique", "speeds", "looking_spot_ft", "gate_altimeter_ft",
        "planned_touchdown_ft", "success", "search_flights", "slip_rule"}) {
    object[key] = nullptr;
  }
  for (const char* key : {"key_points", "flaps", "rules", "sensitivities"}) object[key] = Json::array();
}

}  // namespace

std::optional<Room> sure_room_at(const Brief& brief, const std::string& at) {
  if (!brief.band) return std::nullopt;
  for (const auto& place : brief.band->places) {
    if (place.at == at && place.sure.open()) return place.sure;
  }
  return std::nullopt;
}

Json brief_to_json(const Brief& brief) {
  Json object;
  object["schema"] = "glidewright.brief/1";
  object["runway"] = runway_to_json(brief.runway, brief.touchdown_point);
  object["airplane"] = airplane_to_json(brief.request);
  object["wind"] = wind_to_json(brief.request.conditions.wind);
  object["air"] = air_to_json(brief);
  object["pattern"] = pattern_to_json(brief.request);
  object["standard"] = brief.standard_id;
  object["scatter"] = scatter_to_json(brief.request.scatter);
  object["seed"] = brief.request.seed;
  if (brief.answer.plan) {
    add_plan(object, brief);
  } else {
    add_no_plan(object);
  }
  constexpr double band_every_s = 2.0;
  object["band"] = brief.band ? band_along_to_json(brief.band->along, band_every_s) : Json(nullptr);
  object["dry_run"] = brief.dry_run ? dry_run_to_json(*brief.dry_run, brief.answer.plan) : Json(nullptr);
  object["refusals"] = brief.answer.refusals;
  object["cautions"] = brief.answer.cautions;
  object["assumed"] = brief.answer.assumed;
  return object;
}

}  // namespace glidewright

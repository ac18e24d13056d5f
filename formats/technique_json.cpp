#include "formats/technique_json.hpp"

#include <fmt/format.h>

#include "formats/json_reader.hpp"
#include "formats/shown.hpp"

namespace glidewright {
namespace {

FlapStep::When read_when(JsonFields& fields) {
  const auto when = fields.text("when");
  if (when == "wings-level-base") return FlapStep::When::wings_level_base;
  if (when == "final-turn") return FlapStep::When::final_turn;
  if (when == "wings-level-final") return FlapStep::When::wings_level_final;
  if (when == "at-height") return FlapStep::When::at_height;
  fields.add_problem("when",
                     fmt::format("flaps when '{}'; expected wings-level-base, final-turn, wings-level-final "
                                 "or at-height",
                                 shown(when)));
  return FlapStep::When::wings_level_base;
}

FlapStep read_flap_step(JsonFields& fields) {
  FlapStep step;
  step.setting_deg = fields.number("setting_deg", {0.0, 60.0});
  step.when = read_when(fields);
  if (step.when == FlapStep::When::at_height) step.height_ft = fields.number("height_ft", {50.0, 3000.0});
  fields.replace_flag("only_if_high_enough", step.only_if_high_enough);
  fields.refuse_unknown_fields();
  return step;
}

std::optional<SlipStep> read_slip(JsonFields& fields) {
  auto slip_fields = fields.optional_object("slip");
  if (!slip_fields) return std::nullopt;
  SlipStep slip;
  slip.in_height_ft = slip_fields->number("in_height_ft", {100.0, 3000.0});
  slip_fields->replace_number("out_height_ft", {0.0, 3000.0}, slip.out_height_ft);
  if (slip.out_height_ft >= slip.in_height_ft) {
    slip_fields->add_problem("in_height_ft",
                             fmt::format("slip from {:.10g} ft to {:.10g} ft; expected to begin higher",
                                         slip.in_height_ft, slip.out_height_ft));
  }
  slip_fields->refuse_unknown_fields();
  return slip;
}

const char* when_name(FlapStep::When when) {
  switch (when) {
    case FlapStep::When::wings_level_base:
      return "wings-level-base";
    case FlapStep::When::final_turn:
      return "final-turn";
    case FlapStep::When::wings_level_final:
      return "wings-level-final";
    case FlapStep::When::at_height:
      break;
  }
  return "at-height";
}

}  // namespace

Json technique_to_json(const Technique& technique) {
  Json object;
  const auto put = [&](const char* name, double value, int decimals) {
    object[name] = number(value, decimals);
  };
  put("pattern_height_ft", technique.pattern_height_ft, 1);
  put("spacing_ft", technique.spacing_ft, 1);
  put("pattern_speed_kt", technique.pattern_speed_kt, 2);
  put("idle_s_after_abeam", technique.idle_s_after_abeam, 2);
  put("base_turn_s_after_abeam", technique.base_turn_s_after_abeam, 2);
  put("downwind_speed_kt", technique.downwind_speed_kt, 2);
  put("base_speed_kt", technique.base_speed_kt, 2);
  put("final_speed_kt", technique.final_speed_kt, 2);
  put("short_final_speed_kt", technique.short_final_speed_kt, 2);
  put("base_turn_bank_deg", technique.base_turn_bank_deg, 1);
  put("base_course_deg", technique.base_course_deg, 2);
  put("final_turn_bank_deg", technique.final_turn_bank_deg, 1);
  put("final_turn_bank_limit_deg", technique.final_turn_bank_limit_deg, 1);
  put("final_turn_cross_shift_ft", technique.final_turn_cross_shift_ft, 1);
  object["flaps"] = Json::array();
  for (const FlapStep& step : technique.flaps) {
    Json one{{"setting_deg", number(step.setting_deg, 1)}, {"when", when_name(step.when)}};
    if (step.when == FlapStep::When::at_height) one["height_ft"] = number(step.height_ft, 1);
    one["only_if_high_enough"] = step.only_if_high_enough;
    object["flaps"].push_back(one);
  }
  object["slip_when_high"] = technique.slip_when_high;
  object["path_by_eye"] = technique.path_by_eye;
  if (technique.slip)
    object["slip"] = {{"in_height_ft", number(technique.slip->in_height_ft, 1)},
                      {"out_height_ft", number(technique.slip->out_height_ft, 1)}};
  put("landing_flap_deg", technique.landing_flap_deg, 1);
  put("planned_touchdown_ft", technique.planned_touchdown_ft, 1);
  put("touchdown_speed_kt", technique.touchdown_speed_kt, 2);
  put("flare_lead_s", technique.flare_lead_s, 2);
  put("gate_height_ft", technique.gate_height_ft, 1);
  object["go_around_when_unstable"] = technique.go_around_when_unstable;
  return object;
}

Technique read_technique(JsonFields& fields) {
  constexpr JsonRange k_speed_kt{30.0, 150.0};
  constexpr JsonRange k_bank_deg{5.0, 60.0};
  Technique technique;
  fields.expect_schema("glidewright.technique/1");
  fields.replace_number("pattern_height_ft", {300.0, 3000.0}, technique.pattern_height_ft);
  fields.replace_number("spacing_ft", {500.0, 15000.0}, technique.spacing_ft);
  fields.replace_number("pattern_speed_kt", k_speed_kt, technique.pattern_speed_kt);
  fields.replace_number("idle_s_after_abeam", {-60.0, 60.0}, technique.idle_s_after_abeam);
  fields.replace_number("base_turn_s_after_abeam", {-30.0, 120.0}, technique.base_turn_s_after_abeam);
  fields.replace_number("downwind_speed_kt", k_speed_kt, technique.downwind_speed_kt);
  fields.replace_number("base_speed_kt", k_speed_kt, technique.base_speed_kt);
  fields.replace_number("final_speed_kt", k_speed_kt, technique.final_speed_kt);
  fields.replace_number("short_final_speed_kt", k_speed_kt, technique.short_final_speed_kt);
  fields.replace_number("base_turn_bank_deg", k_bank_deg, technique.base_turn_bank_deg);
  fields.replace_number("base_course_deg", {-60.0, 60.0}, technique.base_course_deg);
  fields.replace_number("final_turn_bank_deg", k_bank_deg, technique.final_turn_bank_deg);
  fields.replace_number("final_turn_bank_limit_deg", k_bank_deg, technique.final_turn_bank_limit_deg);
  fields.replace_number("final_turn_cross_shift_ft", {-3000.0, 3000.0}, technique.final_turn_cross_shift_ft);
  if (fields.has("flaps")) {
    for (auto& step : fields.objects("flaps")) technique.flaps.push_back(read_flap_step(step));
  }
  fields.replace_flag("slip_when_high", technique.slip_when_high);
  fields.replace_flag("path_by_eye", technique.path_by_eye);
  technique.slip = read_slip(fields);
  fields.replace_number("landing_flap_deg", {0.0, 60.0}, technique.landing_flap_deg);
  fields.replace_number("planned_touchdown_ft", {-500.0, 2000.0}, technique.planned_touchdown_ft);
  fields.replace_number("touchdown_speed_kt", k_speed_kt, technique.touchdown_speed_kt);
  fields.replace_number("flare_lead_s", {0.5, 10.0}, technique.flare_lead_s);
  fields.replace_number("gate_height_ft", {50.0, 1000.0}, technique.gate_height_ft);
  fields.replace_flag("go_around_when_unstable", technique.go_around_when_unstable);
  return technique;
}

namespace {

/// Every field of Scatter, as it is named, read and written.
struct ScatterField {
  const char* name;
  double Scatter::*value;
  JsonRange range;
  int decimals;
};
constexpr ScatterField k_scatter_fields[] = {
    {"cue_s", &Scatter::cue_s, {0.0, 20.0}, 2},
    {"speed_kt", &Scatter::speed_kt, {0.0, 20.0}, 2},
    {"bank_deg", &Scatter::bank_deg, {0.0, 20.0}, 2},
    {"flap_s", &Scatter::flap_s, {0.0, 30.0}, 2},
    {"spacing_ft", &Scatter::spacing_ft, {0.0, 3000.0}, 0},
    {"height_ft", &Scatter::height_ft, {0.0, 500.0}, 0},
    {"wind_kt", &Scatter::wind_kt, {0.0, 20.0}, 2},
    {"glide_relative", &Scatter::glide_relative, {0.0, 0.5}, 4},
    {"eye_relative", &Scatter::eye_relative, {0.0, 1.0}, 3},
    {"touchdown_speed_kt", &Scatter::touchdown_speed_kt, {0.0, 20.0}, 2},
    {"shear_exponent", &Scatter::shear_exponent, {0.0, 0.3}, 3},
    {"temperature_c", &Scatter::temperature_c, {0.0, 20.0}, 2},
    {"weight_relative", &Scatter::weight_relative, {0.0, 0.2}, 4},
    {"decision_s", &Scatter::decision_s, {0.0, 5.0}, 2},
    {"turbulence", &Scatter::turbulence, {0.0, 3.0}, 2}};

Scatter read_scatter(JsonFields& fields, Scatter scatter) {
  fields.expect_schema("glidewright.scatter/1");
  for (const char* for_people : {"name", "note"}) {
    if (fields.has(for_people)) fields.text(for_people);
  }
  for (const ScatterField& field : k_scatter_fields)
    fields.replace_number(field.name, field.range, scatter.*field.value);
  return scatter;
}

}  // namespace

Result<Technique> read_technique_json(std::string_view bytes, std::string_view name) {
  return read_json_object(bytes, name, read_technique);
}

Result<Scatter> read_scatter_json(std::string_view bytes, std::string_view name, const Scatter& usual) {
  return read_json_object(bytes, name, [&](JsonFields& fields) { return read_scatter(fields, usual); });
}

Json scatter_to_json(const Scatter& scatter) {
  Json object;
  for (const ScatterField& field : k_scatter_fields)
    object[field.name] = number(scatter.*field.value, field.decimals);
  return object;
}

}  // namespace glidewright

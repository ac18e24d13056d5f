#include "formats/airplane_json.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "formats/json_reader.hpp"
#include "formats/json_write.hpp"

namespace glidewright {
namespace {

constexpr JsonRange k_any_number{-1e9, 1e9};

/// {"value", "sd", "source"}, in range and with a source that says something.
SourcedNumber sourced(std::optional<JsonFields> fields, std::string_view name, JsonRange range) {
  if (!fields) return {range.low, 0.0, {}};
  SourcedNumber number;
  number.value = fields->number("value", k_any_number);
  fields->replace_number("sd", {0.0, range.high - range.low}, number.sd);
  number.source = fields->text("source");
  fields->refuse_unknown_fields();
  if (number.value < range.low || number.value > range.high) {
    fields->add_problem("value", fmt::format("{} {:.10g}; expected {:.10g} to {:.10g}", name, number.value,
                                             range.low, range.high));
  }
  return number;
}

SourcedNumber required(JsonFields& fields, std::string_view name, JsonRange range) {
  return sourced(fields.object(name), name, range);
}

std::optional<SourcedNumber> optional(JsonFields& fields, std::string_view name, JsonRange range) {
  auto object = fields.optional_object(name);
  if (!object) return std::nullopt;
  return sourced(std::move(object), name, range);
}

void replace(JsonFields& fields, std::string_view name, JsonRange range, double& value) {
  if (const auto number = optional(fields, name, range)) value = number->value;
}

HandbookFlap read_flap(JsonFields& fields) {
  HandbookFlap flap;
  flap.setting_deg = fields.number("setting_deg", {0.0, 60.0});
  flap.stall_speed_kcas = required(fields, "stall_speed_kcas", {20.0, 90.0});
  flap.glide_ratio = optional(fields, "glide_ratio", {2.0, 40.0});
  if (const auto speed = optional(fields, "glide_speed_kcas", {30.0, 150.0}))
    flap.glide_speed_kcas = speed->value;
  replace(fields, "maximum_speed_kcas", {0.0, 250.0}, flap.maximum_speed_kcas);
  replace(fields, "travel_time_s", {0.0, 20.0}, flap.travel_time_s);
  fields.refuse_unknown_fields();
  return flap;
}

void check_flaps(JsonFields& fields, const Handbook& handbook) {
  const auto& flaps = handbook.flaps;
  if (flaps.empty()) return fields.add_problem("flaps", "no flap setting; expected at least setting_deg 0");
  if (flaps.front().setting_deg != 0.0) {
    return fields.add_problem(
        "flaps",
        fmt::format("first flap setting {:.10g} deg; expected 0, the clean wing", flaps.front().setting_deg));
  }
  const auto falls = std::adjacent_find(flaps.begin(), flaps.end(), [](const auto& a, const auto& b) {
    return b.setting_deg <= a.setting_deg;
  });
  if (falls != flaps.end()) {
    return fields.add_problem(
        "flaps", fmt::format("flap setting {:.10g} deg follows {:.10g}; expected rising settings",
                             (falls + 1)->setting_deg, falls->setting_deg));
  }
  const bool is_a_setting = std::any_of(flaps.begin(), flaps.end(), [&](const auto& flap) {
    return flap.setting_deg == handbook.landing_flap_deg;
  });
  if (!is_a_setting) {
    fields.add_problem("landing_flap_deg",
                       fmt::format("landing flap {:.10g} deg; expected one of the flap settings",
                                   handbook.landing_flap_deg));
  }
}

FittedFrom read_fitted(JsonFields& fields) {
  FittedFrom fitted;
  for (auto& log : fields.objects("logs")) {
    fitted.logs.push_back(
        {log.text("file"), log.text("sha256"), static_cast<int>(log.number("glides", {0.0, 1e6}))});
    log.refuse_unknown_fields();
  }
  for (auto& original : fields.objects("handbook")) {
    fitted.handbook.push_back({original.text("field"),
                               {original.number("value", k_any_number), original.number("sd", {0.0, 1e9}),
                                original.text("source")}});
    original.refuse_unknown_fields();
  }
  fitted.drag_sd = fields.number("drag_sd_relative", {0.0, 0.5});
  fitted.polar_misfit = fields.number("polar_misfit_relative", {0.001, 0.5});
  for (auto& pair : fields.objects("correlations")) {
    fitted.correlations.push_back({pair.text("one"), pair.text("other"), pair.number("value", {-1.0, 1.0})});
    pair.refuse_unknown_fields();
  }
  fields.refuse_unknown_fields();
  return fitted;
}

Handbook read_handbook(JsonFields& fields) {
  Handbook handbook;
  fields.expect_schema("glidewright.airplane/1");
  handbook.name = fields.text("name");
  fields.replace_flag("invented", handbook.invented);
  fields.replace_text("description", handbook.description);
  handbook.maximum_weight_lb = required(fields, "maximum_weight_lb", {400.0, 12500.0});
  handbook.best_glide_speed_kcas = required(fields, "best_glide_speed_kcas", {30.0, 150.0});
  handbook.best_glide_ratio = required(fields, "best_glide_ratio", {3.0, 40.0});
  for (auto& flap : fields.objects("flaps")) handbook.flaps.push_back(read_flap(flap));
  handbook.approach_speed_kcas = required(fields, "approach_speed_kcas", {30.0, 150.0});
  handbook.landing_flap_deg = required(fields, "landing_flap_deg", {0.0, 60.0}).value;
  handbook.wing_span_ft = required(fields, "wing_span_ft", {15.0, 80.0});
  handbook.wing_height_ft = required(fields, "wing_height_ft", {1.0, 15.0});
  handbook.slip_drag_ratio = optional(fields, "slip_drag_ratio", {0.2, 1.0});
  replace(fields, "slip_flap_limit_deg", {0.0, 90.0}, handbook.slip_flap_limit_deg);
  replace(fields, "maximum_crosswind_kt", {0.0, 40.0}, handbook.maximum_crosswind_kt);
  replace(fields, "maximum_tailwind_kt", {0.0, 15.0}, handbook.maximum_tailwind_kt);
  handbook.ground_roll_ft = required(fields, "ground_roll_ft", {100.0, 5000.0});
  replace(fields, "antenna_height_ft", {0.0, 20.0}, handbook.antenna_height_ft);
  handbook.least_drag_speed_kcas = optional(fields, "least_drag_speed_kcas", {30.0, 150.0});
  handbook.near_stall_drag = optional(fields, "near_stall_drag", {0.0, 2.0});
  handbook.turn_drag = optional(fields, "turn_drag", {-0.5, 2.0});
  if (auto fitted = fields.optional_object("fitted")) handbook.fitted = read_fitted(*fitted);
  check_flaps(fields, handbook);
  return handbook;
}

/// Digits enough that a profile written and read again plans the same cue.
constexpr int k_decimals = 4;

Json number_to_json(const SourcedNumber& sourced) {
  return {{"value", number(sourced.value, k_decimals)},
          {"sd", number(sourced.sd, k_decimals)},
          {"source", sourced.source}};
}

Json fitted_to_json(const FittedFrom& fitted) {
  Json object;
  object["logs"] = Json::array();
  for (const auto& log : fitted.logs)
    object["logs"].push_back({{"file", log.file}, {"sha256", log.sha256}, {"glides", log.glides}});
  object["handbook"] = Json::array();
  for (const auto& original : fitted.handbook) {
    Json one = {{"field", original.field}};
    one.update(number_to_json(original.number));
    object["handbook"].push_back(one);
  }
  object["drag_sd_relative"] = number(fitted.drag_sd, k_decimals);
  object["polar_misfit_relative"] = number(fitted.polar_misfit, k_decimals);
  object["correlations"] = Json::array();
  for (const auto& pair : fitted.correlations) {
    object["correlations"].push_back(
        {{"one", pair.one}, {"other", pair.other}, {"value", number(pair.value, 6)}});
  }
  return object;
}

}  // namespace

std::string write_fitted_airplane_json(std::string_view original, const Handbook& fitted) {
  Json object = Json::parse(original);
  object["best_glide_ratio"] = number_to_json(fitted.best_glide_ratio);
  for (std::size_t i = 0; i < fitted.flaps.size(); ++i) {
    Json& flap = object["flaps"][i];
    const HandbookFlap& numbers = fitted.flaps[i];
    if (numbers.glide_ratio) {
      flap["glide_ratio"] = number_to_json(*numbers.glide_ratio);
    } else {
      flap.erase("glide_ratio");
    }
    if (!numbers.glide_speed_kcas) {
      flap.erase("glide_speed_kcas");
    } else if (!flap.contains("glide_speed_kcas")) {
      flap["glide_speed_kcas"] = {{"value", number(*numbers.glide_speed_kcas, k_decimals)},
                                  {"source", "the approach speed, since the handbook names none"}};
    }
  }
  object["slip_drag_ratio"] = number_to_json(*fitted.slip_drag_ratio);
  object["least_drag_speed_kcas"] = number_to_json(*fitted.least_drag_speed_kcas);
  object["near_stall_drag"] = number_to_json(*fitted.near_stall_drag);
  object["turn_drag"] = number_to_json(*fitted.turn_drag);
  object["fitted"] = fitted_to_json(*fitted.fitted);
  return object.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

Result<Handbook> read_airplane_json(std::string_view bytes, std::string_view name) {
  auto handbook = read_json_object(bytes, name, read_handbook);
  if (handbook) handbook->id = file_stem(name);
  return handbook;
}

}  // namespace glidewright

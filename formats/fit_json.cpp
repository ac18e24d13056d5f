#include "formats/fit_json.hpp"

#include <fmt/format.h>

#include "formats/time.hpp"

namespace glidewright {
namespace {

Json estimate_to_json(const Estimate& estimate, int decimals) {
  return {{"value", number(estimate.value, decimals)},
          {"low95", number(estimate.low95, decimals)},
          {"high95", number(estimate.high95, decimals)}};
}

Json log_to_json(const FitReport& report, std::size_t i) {
  const FittedLog& log = report.logs[i];
  const LogOffset& offset = report.fit.offsets[i];
  Json left_out = Json::array();
  for (const auto& one : log.left_out) left_out.push_back({{"reason", one.reason}, {"glides", one.glides}});
  return {{"file", log.file},
          {"kind", log.kind},
          {"sha256", report.glides[i].sha256},
          {"glides_found", log.found},
          {"glides_used", report.glides[i].glides.size()},
          {"left_out", left_out},
          {"notes", log.notes},
          {"airspeed_error_kt", number(offset.airspeed_kt, 2)},
          {"airspeed_error_sd_kt", number(offset.airspeed_sd_kt, 2)},
          {"sinking_air_fpm", number(offset.vertical_air_fpm, 0)},
          {"sinking_air_sd_fpm", number(offset.vertical_air_sd_fpm, 0)}};
}

Json glide_to_json(const FitReport& report, const GlideResidual& residual) {
  const LoggedGlide& glide = report.glides[residual.log].glides[residual.glide];
  const bool has_line = glide.line > 0;
  return {{"log", residual.log},
          {"line", has_line ? Json(glide.line) : Json(nullptr)},
          {"time", has_line ? Json(nullptr) : Json(iso8601_utc(glide.begin_unix_s, 0))},
          {"airspeed_kcas", number(glide.calibrated_airspeed_kt, 1)},
          {"flap_deg", number(glide.flap_deg, 1)},
          {"drag_relative", number(residual.drag_relative, 4)},
          {"trust", number(residual.trust, 2)}};
}

Json number_to_json(const GlideNumber& before, const GlideNumber& after) {
  return {{"field", after.field},
          {"before", number(before.value, 4)},
          {"before_sd", number(before.sd, 4)},
          {"before_source", before.source},
          {"after", number(after.value, 4)},
          {"after_sd", number(after.sd, 4)}};
}

}  // namespace

std::vector<BeforeAndAfter> estimates(const FitReport& report) {
  const GlideBelief& before = report.fit.before;
  const GlideBelief& after = report.fit.after;
  const Pounds weight{report.weight_lb};
  std::vector<BeforeAndAfter> all;
  all.push_back({"best_glide_ratio", "best glide ratio, flaps up", "", 2, best_glide_ratio(before),
                 best_glide_ratio(after)});
  all.push_back({"flattest_glide_speed_kcas", "flattest glide at", "kt", 1,
                 flattest_glide_speed_kcas(before, weight), flattest_glide_speed_kcas(after, weight)});
  const Knots approach{before.handbook.approach_speed_kcas.value};
  for (const auto& flap : before.handbook.flaps) {
    const Degrees setting{flap.setting_deg};
    all.push_back({fmt::format("sink_at_approach_speed_flap_{:.10g}_fpm", flap.setting_deg),
                   fmt::format("sink at {:.0f} kt, flap {:.10g}°", approach.value, flap.setting_deg),
                   "ft/min", 0, sink_fpm(before, approach, weight, setting),
                   sink_fpm(after, approach, weight, setting)});
  }
  return all;
}

Json fit_to_json(const FitReport& report) {
  const GlideFit& fit = report.fit;
  Json object;
  object["schema"] = "glidewright.fit/1";
  object["airplane"] = {
      {"id", report.airplane_id}, {"name", report.airplane_name}, {"weight_lb", number(report.weight_lb, 0)}};
  object["logs"] = Json::array();
  for (std::size_t i = 0; i < report.logs.size(); ++i) object["logs"].push_back(log_to_json(report, i));
  object["estimates"] = Json::array();
  for (const auto& one : estimates(report)) {
    object["estimates"].push_back({{"what", one.key},
                                   {"words", one.words},
                                   {"unit", one.unit},
                                   {"before", estimate_to_json(one.before, one.decimals)},
                                   {"after", estimate_to_json(one.after, one.decimals)}});
  }
  object["drag_sd_relative"] = {{"before", number(drag_sd(fit.before), 4)},
                                {"after", number(drag_sd(fit.after), 4)}};
  object["noise_scale"] = number(fit.noise_scale, 3);
  object["numbers"] = Json::array();
  for (std::size_t i = 0; i < fit.after.numbers.size(); ++i)
    object["numbers"].push_back(number_to_json(fit.before.numbers[i], fit.after.numbers[i]));
  object["glides"] = Json::array();
  for (const auto& residual : fit.residuals) object["glides"].push_back(glide_to_json(report, residual));
  object["written"] = report.written ? Json(*report.written) : Json(nullptr);
  object["assumed"] = report.assumed;
  return object;
}

}  // namespace glidewright

#include "engine/airplane/handbook.hpp"

#include <Eigen/Cholesky>
#include <algorithm>
#include <cmath>
#include <cstdio>

namespace glidewright {
namespace {

std::string words(double value, int decimals) {
  char text[32];
  std::snprintf(text, sizeof text, "%.*f", decimals, value);
  return text;
}

/// What is believable for light airplanes: common practice, no source.
struct Range {
  double low;
  double high;
};

/// False where any of the three is no number.
bool within(double value, Range range) {
  return std::isfinite(value) && value >= range.low && value <= range.high;
}

void in_range(std::vector<Inconsistency>& found, const char* field, const char* what, double value,
              Range range, const char* unit, int decimals = 0) {
  if (within(value, range)) return;
  found.push_back({field, std::string(what) + " " + words(value, decimals) + unit + "; expected " +
                              words(range.low, decimals) + " to " + words(range.high, decimals)});
}

/// A speed against a stall: which two numbers disagree, how, and what would be believable.
void above_stall(std::vector<Inconsistency>& found, const char* field, const std::string& what, double speed,
                 double stall, const std::string& with, Range times_stall) {
  if (within(speed, {times_stall.low * stall, times_stall.high * stall})) return;
  const char* relation = speed <= stall ? " kt lies below the stall at " : " kt with a stall at ";
  found.push_back({field, what + " " + words(speed, 0) + relation + words(stall, 0) + " kt" + with +
                              "; expected " + words(times_stall.low * stall, 0) + " to " +
                              words(times_stall.high * stall, 0) + " kt"});
}

/// Weight, stall and span make a wing: a weight in kilograms or a span in metres shows in its shape.
void check_wing(std::vector<Inconsistency>& found, const Handbook& handbook) {
  constexpr double k_lift_at_stall = 1.5;                     // flaps up: common practice, no source
  constexpr double k_sea_level_density_slug_ft3 = 0.0023769;  // US Standard Atmosphere 1976
  constexpr Range k_aspect_ratios{4.0, 14.0};
  const double stall_fps = handbook.flaps.front().stall_speed_kcas.value * k_fps_per_knot;
  const double area_ft2 = handbook.maximum_weight_lb.value /
                          (0.5 * k_sea_level_density_slug_ft3 * stall_fps * stall_fps * k_lift_at_stall);
  const double span_ft = handbook.wing_span_ft.value;
  const double aspect_ratio = span_ft * span_ft / area_ft2;
  if (within(aspect_ratio, k_aspect_ratios)) return;
  found.push_back(
      {"maximum_weight_lb", "maximum weight " + words(handbook.maximum_weight_lb.value, 0) + " lb, stall " +
                                words(handbook.flaps.front().stall_speed_kcas.value, 0) + " kt and span " +
                                words(span_ft, 0) + " ft would make a wing " + words(aspect_ratio, 1) +
                                " times as long as deep; expected 4 to 14 (is the weight in pounds, the span "
                                "in feet?)"});
}

/// Correlations that no numbers can have, as after an edit by hand.
void check_correlations(std::vector<Inconsistency>& found, const FittedFrom& fitted) {
  std::vector<std::string> fields;
  const auto place = [&](const std::string& field) {
    const auto at = std::find(fields.begin(), fields.end(), field);
    if (at != fields.end()) return static_cast<Eigen::Index>(at - fields.begin());
    fields.push_back(field);
    return static_cast<Eigen::Index>(fields.size()) - 1;
  };
  for (const auto& pair : fitted.correlations) {
    place(pair.one);
    place(pair.other);
  }
  const auto count = static_cast<Eigen::Index>(fields.size());
  Eigen::MatrixXd matrix = Eigen::MatrixXd::Identity(count, count);
  for (const auto& pair : fitted.correlations) {
    const Eigen::Index i = place(pair.one), j = place(pair.other);
    matrix(i, j) = matrix(j, i) = pair.value;
  }
  if (count == 0 || matrix.llt().info() == Eigen::Success) return;
  found.push_back({"fitted.correlations",
                   "the correlations do not go together; expected them as glidewright fit wrote them"});
}

void check_flaps(std::vector<Inconsistency>& found, const Handbook& handbook) {
  if (handbook.flaps.empty() || handbook.flaps.front().setting_deg != 0.0) {
    found.push_back({"flaps", "the first flap setting must be 0 (flaps up)"});
    return;
  }
  const double clean_stall = handbook.flaps.front().stall_speed_kcas.value;
  in_range(found, "flaps[0].stall_speed_kcas", "stall speed, flaps up,", clean_stall, {25.0, 75.0}, " kt");
  bool landing_flap_listed = false;
  for (std::size_t i = 0; i < handbook.flaps.size(); ++i) {
    const auto& flap = handbook.flaps[i];
    const std::string field = "flaps[" + std::to_string(i) + "]";
    const std::string setting = words(flap.setting_deg, 0);
    landing_flap_listed = landing_flap_listed || flap.setting_deg == handbook.landing_flap_deg;
    if (i == 0) continue;
    const auto& before = handbook.flaps[i - 1];
    if (!(flap.setting_deg > before.setting_deg)) {
      found.push_back({field + ".setting_deg", "flap " + setting + " comes after flap " +
                                                   words(before.setting_deg, 0) +
                                                   "; expected rising settings"});
    }
    if (!within(flap.stall_speed_kcas.value, {0.6 * clean_stall, before.stall_speed_kcas.value})) {
      found.push_back({field + ".stall_speed_kcas",
                       "stall with flap " + setting + " at " + words(flap.stall_speed_kcas.value, 0) +
                           " kt; expected at most that of the setting before it, " +
                           words(before.stall_speed_kcas.value, 0) + " kt, and at least " +
                           words(0.6 * clean_stall, 0) + " kt"});
    }
    const double stall = flap.stall_speed_kcas.value;
    if (!(flap.maximum_speed_kcas >= 1.3 * stall)) {
      const std::string below = flap.maximum_speed_kcas <= stall
                                    ? " lies below the stall with it at " + words(stall, 0) + " kt"
                                    : "";
      found.push_back({field + ".maximum_speed_kcas",
                       "flap limit " + words(flap.maximum_speed_kcas, 0) + " kt at flap " + setting + below +
                           "; expected at least 1.3 times its stall, " + words(1.3 * stall, 0) + " kt"});
    }
    if (flap.glide_ratio) {
      in_range(found, (field + ".glide_ratio").c_str(), ("glide ratio with flap " + setting).c_str(),
               flap.glide_ratio->value, {2.5, handbook.best_glide_ratio.value}, "", 1);
    }
  }
  if (!landing_flap_listed) {
    found.push_back({"landing_flap_deg", "landing flap " + words(handbook.landing_flap_deg, 0) +
                                             " is none of the settings listed under flaps"});
  }
}

}  // namespace

std::vector<Inconsistency> check(const Handbook& handbook) {
  std::vector<Inconsistency> found;
  in_range(found, "maximum_weight_lb", "maximum weight", handbook.maximum_weight_lb.value, {500.0, 12500.0},
           " lb");
  in_range(found, "best_glide_ratio", "best glide ratio", handbook.best_glide_ratio.value, {5.0, 20.0},
           " for a light single", 1);
  in_range(found, "wing_span_ft", "wing span", handbook.wing_span_ft.value, {15.0, 80.0}, " ft");
  in_range(found, "wing_height_ft", "wing height", handbook.wing_height_ft.value, {1.0, 15.0}, " ft", 1);
  in_range(found, "ground_roll_ft", "landing ground roll", handbook.ground_roll_ft.value, {100.0, 4000.0},
           " ft");
  in_range(found, "maximum_crosswind_kt", "maximum crosswind", handbook.maximum_crosswind_kt, {3.0, 40.0},
           " kt");
  if (handbook.slip_drag_ratio) {
    in_range(found, "slip_drag_ratio", "glide ratio slipping over not slipping",
             handbook.slip_drag_ratio->value, {0.3, 0.98}, "", 2);
  }
  check_flaps(found, handbook);
  if (handbook.flaps.empty()) return found;

  const double clean_stall = handbook.flaps.front().stall_speed_kcas.value;
  const double best_glide = handbook.best_glide_speed_kcas.value;
  constexpr Range k_best_glide_over_stall{1.2, 2.2};
  above_stall(found, "best_glide_speed_kcas", "best glide", best_glide, clean_stall, "",
              k_best_glide_over_stall);
  if (handbook.least_drag_speed_kcas) {
    above_stall(found, "least_drag_speed_kcas", "least drag at", handbook.least_drag_speed_kcas->value,
                clean_stall, "", k_best_glide_over_stall);
  }
  double landing_stall = clean_stall, landing_limit = 0.0;
  for (const auto& flap : handbook.flaps) {
    if (flap.setting_deg != handbook.landing_flap_deg) continue;
    landing_stall = flap.stall_speed_kcas.value;
    landing_limit = flap.maximum_speed_kcas;
  }
  const double approach = handbook.approach_speed_kcas.value;
  above_stall(found, "approach_speed_kcas", "approach speed", approach, landing_stall, " in landing flap",
              {1.15, 1.8});
  if (handbook.landing_flap_deg > 0.0 && approach > landing_limit && landing_limit > landing_stall) {
    found.push_back({"approach_speed_kcas", "approach speed " + words(approach, 0) +
                                                " kt is faster than the landing flap's limit, " +
                                                words(landing_limit, 0) + " kt"});
  }
  if (found.empty()) check_wing(found, handbook);
  if (handbook.fitted) check_correlations(found, *handbook.fitted);
  return found;
}

}  // namespace glidewright

#include "engine/airplane/handbook.hpp"

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
    if (!(flap.maximum_speed_kcas >= 1.3 * flap.stall_speed_kcas.value)) {
      found.push_back(
          {field + ".maximum_speed_kcas", "flap limit " + words(flap.maximum_speed_kcas, 0) + " kt at flap " +
                                              setting + "; expected at least 1.3 times its stall, " +
                                              words(1.3 * flap.stall_speed_kcas.value, 0) + " kt"});
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
  in_range(found, "best_glide_ratio", "best glide ratio", handbook.best_glide_ratio.value, {5.0, 20.0}, "",
           1);
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
  if (!within(best_glide, {1.2 * clean_stall, 2.2 * clean_stall})) {
    found.push_back({"best_glide_speed_kcas", "best glide " + words(best_glide, 0) + " kt with a stall at " +
                                                  words(clean_stall, 0) + " kt; expected " +
                                                  words(1.2 * clean_stall, 0) + " to " +
                                                  words(2.2 * clean_stall, 0) + " kt"});
  }
  double landing_stall = clean_stall;
  for (const auto& flap : handbook.flaps) {
    if (flap.setting_deg == handbook.landing_flap_deg) landing_stall = flap.stall_speed_kcas.value;
  }
  const double approach = handbook.approach_speed_kcas.value;
  if (!within(approach, {1.15 * landing_stall, 1.8 * landing_stall})) {
    found.push_back({"approach_speed_kcas", "approach speed " + words(approach, 0) + " kt with a stall at " +
                                                words(landing_stall, 0) + " kt in landing flap; expected " +
                                                words(1.15 * landing_stall, 0) + " to " +
                                                words(1.8 * landing_stall, 0) + " kt"});
  }
  return found;
}

}  // namespace glidewright

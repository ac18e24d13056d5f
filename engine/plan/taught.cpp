#include "engine/plan/taught.hpp"

#include <algorithm>
#include <cmath>

namespace glidewright {

Technique taught_technique(const Airplane& airplane, double weight_lb, double gust_kt) {
  const Handbook& handbook = airplane.handbook;
  // Handbook speeds hold at maximum weight; speeds go with the square root of weight.
  const double weight_factor = std::sqrt(weight_lb / handbook.maximum_weight_lb.value);
  const double best_glide = std::round(handbook.best_glide_speed_kcas.value * weight_factor);
  const double landing_stall = airplane.polar.stall_kcas(weight_lb, handbook.landing_flap_deg);
  Technique technique;
  technique.final_speed_kt = std::round(handbook.approach_speed_kcas.value + 0.5 * gust_kt);
  technique.downwind_speed_kt = std::max(best_glide, technique.final_speed_kt);
  technique.base_speed_kt = std::round(0.5 * (technique.downwind_speed_kt + technique.final_speed_kt));
  technique.short_final_speed_kt = technique.final_speed_kt - 2.0;
  technique.touchdown_speed_kt = 1.15 * landing_stall;
  technique.landing_flap_deg = handbook.landing_flap_deg;
  technique.path_by_eye = true;
  technique.flaps.clear();
  for (const auto& flap : handbook.flaps) {
    if (flap.setting_deg > 0.0 && flap.setting_deg < handbook.landing_flap_deg) {
      technique.flaps.push_back({flap.setting_deg, FlapStep::When::wings_level_base, 0.0, true});
      break;
    }
  }
  if (handbook.landing_flap_deg > 0.0) {
    technique.flaps.push_back({handbook.landing_flap_deg, FlapStep::When::final_turn, 0.0, true});
  }
  technique.slip_when_high = handbook.slip_flap_limit_deg > 0.0;
  return technique;
}

std::vector<std::vector<FlapStep>> other_taught_flaps(const Technique& taught) {
  using When = FlapStep::When;
  const auto at = [](const FlapStep& step, When when) {
    FlapStep moved = step;
    moved.when = when;
    return moved;
  };
  if (taught.flaps.empty()) return {};
  const FlapStep& last = taught.flaps.back();
  if (taught.flaps.size() == 1) return {{at(last, When::wings_level_final)}};
  const FlapStep& first = taught.flaps.front();
  return {{at(last, When::final_turn)},
          {first, at(last, When::wings_level_final)},
          {at(first, When::final_turn), at(last, When::wings_level_final)}};
}

}  // namespace glidewright

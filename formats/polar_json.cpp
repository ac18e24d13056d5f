#include "formats/polar_json.hpp"

#include <algorithm>
#include <cmath>

#include "engine/air/atmosphere.hpp"

namespace glidewright {
namespace {

Json lost(const std::optional<double>& lost_ft) {
  return lost_ft ? number(*lost_ft, 1) : Json(nullptr);
}

Json glide_to_json(const GlideAtSpeed& one) {
  return {{"speed_kcas", number(one.calibrated_airspeed_kt, 1)},
          {"glide_ratio", number(one.glide.glide_ratio, 2)},
          {"sink_fpm", number(one.glide.sink_fpm, 0)}};
}

Json by_wind(const GlideAtSpeed& one) {
  Json list = Json::array();
  for (const double headwind_kt : k_headwinds_kt)
    list.push_back(lost(lost_ft_per_nm(one.glide, headwind_kt)));
  return list;
}

Json by_speed(const FlapGlides& flap, const std::vector<double>& speeds_kt) {
  Json list = Json::array();
  for (const double speed_kt : speeds_kt) {
    const GlideAtSpeed* one = on_curve(flap, speed_kt);
    list.push_back(one ? lost(lost_ft_per_nm(one->glide, 0.0)) : Json(nullptr));
  }
  return list;
}

Json turns_of(const PolarSheet& asked, const FlapGlides& flap) {
  Json list = Json::array();
  for (const double bank_deg : k_banks_deg) {
    const auto turn = gliding_turn(asked.airplane->polar, Knots{flap.flown.calibrated_airspeed_kt},
                                   Pounds{asked.sheet.weight_lb}, Degrees{flap.setting_deg},
                                   Degrees{bank_deg}, Degrees{k_turned_deg}, asked.sheet.density_ratio);
    list.push_back({{"bank_deg", number(bank_deg, 0)},
                    {"lost_ft", number(turn.lost_ft, 1)},
                    {"seconds", number(turn.seconds, 1)},
                    {"radius_ft", number(turn.radius_ft, 1)},
                    {"over_stall", number(turn.over_stall, 2)}});
  }
  return list;
}

Json flap_to_json(const PolarSheet& asked, const FlapGlides& flap, const std::vector<double>& speeds_kt) {
  Json object;
  object["setting_deg"] = number(flap.setting_deg, 0);
  object["stall_kcas"] = number(flap.stall_kcas, 1);
  object["maximum_speed_kcas"] = flap.maximum_kcas ? number(*flap.maximum_kcas, 0) : Json(nullptr);
  object["flattest"] = glide_to_json(flap.flattest);
  object["flown"] = glide_to_json(flap.flown);
  object["lost_ft_per_nm_by_wind"] = by_wind(flap.flown);
  object["slipping"] = nullptr;
  if (flap.slipping) {
    object["slipping"] = glide_to_json(*flap.slipping);
    object["slipping"]["lost_ft_per_nm_by_wind"] = by_wind(*flap.slipping);
  }
  object["lost_ft_per_nm_by_speed"] = by_speed(flap, speeds_kt);
  object["turns"] = turns_of(asked, flap);
  object["curve"] = Json::array();
  for (const auto& one : flap.curve) object["curve"].push_back(glide_to_json(one));
  return object;
}

}  // namespace

const GlideAtSpeed* on_curve(const FlapGlides& flap, double speed_kt) {
  for (const auto& one : flap.curve) {
    if (std::abs(one.calibrated_airspeed_kt - speed_kt) < 0.5) return &one;
  }
  return nullptr;
}

std::vector<double> table_speeds_kt(const GlideSheet& sheet) {
  constexpr double k_apart_kt = 5.0;
  double slowest_kt = 0.0, fastest_kt = 0.0;
  for (const auto& flap : sheet.flaps) {
    if (flap.curve.empty()) continue;
    const double first_kt = flap.curve.front().calibrated_airspeed_kt;
    slowest_kt = slowest_kt > 0.0 ? std::min(slowest_kt, first_kt) : first_kt;
    fastest_kt = std::max(fastest_kt, flap.curve.back().calibrated_airspeed_kt);
  }
  std::vector<double> speeds_kt;
  for (double kt = k_apart_kt * std::ceil(slowest_kt / k_apart_kt); kt > 0.0 && kt <= fastest_kt;
       kt += k_apart_kt)
    speeds_kt.push_back(kt);
  return speeds_kt;
}

Json polar_to_json(const PolarSheet& asked) {
  Json object;
  object["schema"] = "glidewright.polar/1";
  object["airplane"] = {{"id", asked.handbook.id}, {"name", asked.handbook.name}};
  object["problems"] = Json::array();
  for (const auto& one : asked.problems)
    object["problems"].push_back({{"field", one.field}, {"sentence", one.sentence}});
  object["weight_lb"] = number(asked.sheet.weight_lb, 0);
  object["density_altitude_ft"] = number(density_altitude(asked.sheet.density_ratio).value, 0);
  object["drag_sd_relative"] = asked.airplane ? number(asked.airplane->glide_sd, 3) : Json(nullptr);
  object["headwinds_kt"] = Json::array();
  for (const double kt : k_headwinds_kt) object["headwinds_kt"].push_back(number(kt, 0));
  const auto speeds_kt = table_speeds_kt(asked.sheet);
  object["speeds_kcas"] = Json::array();
  for (const double kt : speeds_kt) object["speeds_kcas"].push_back(number(kt, 0));
  object["turned_deg"] = number(k_turned_deg, 0);
  object["flaps"] = Json::array();
  for (const auto& flap : asked.sheet.flaps) object["flaps"].push_back(flap_to_json(asked, flap, speeds_kt));
  object["assumed"] = asked.assumed;
  return object;
}

}  // namespace glidewright

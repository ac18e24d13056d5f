#include "formats/desk_json.hpp"

#include <cmath>

#include "engine/technique/clock.hpp"
#include "formats/drill_json.hpp"
#include "formats/fly_json.hpp"
#include "formats/json_reader.hpp"

namespace glidewright {
namespace {

const char* phase_name(DeskPhase phase) {
  switch (phase) {
    case DeskPhase::downwind:
      return "downwind";
    case DeskPhase::slowing:
      return "slowing";
    case DeskPhase::gliding:
      return "gliding";
    case DeskPhase::flaring:
      return "flaring";
    case DeskPhase::going_around:
      return "going-around";
    case DeskPhase::down:
      return "down";
  }
  return "down";
}

const char* end_name(DeskEnd end) {
  switch (end) {
    case DeskEnd::under_way:
      return "under-way";
    case DeskEnd::landed:
      return "landed";
    case DeskEnd::off_the_runway:
      return "off-the-runway";
    case DeskEnd::went_around:
      return "went-around";
    case DeskEnd::out_of_time:
      return "out-of-time";
  }
  return "under-way";
}

/// A place a second, and the last before the wheels touch or the hands leave it.
Json way_to_json(const DeskFlight& flight) {
  Json way = Json::array();
  double next_s = -1e9;
  for (const Moment& one : flight.track) {
    if (one.time_s > flight.now.time_s) break;
    if (one.time_s < next_s - 1e-6) continue;
    way.push_back(drill_place_to_json(one));
    next_s = one.time_s + 1.0;
  }
  way.push_back(drill_place_to_json(flight.now));
  return way;
}

}  // namespace

Json desk_to_json(const DeskShown& shown) {
  const RunwayFrame frame(shown.runway, shown.touchdown_point);
  const DeskFlight& flight = shown.flight;
  Json object;
  object["schema"] = "glidewright.desk/1";
  object["runway"] = runway_to_json(shown.runway, shown.touchdown_point);
  object["threshold_along_ft"] = number(frame.threshold_along_ft(), 0);
  object["runway_end_along_ft"] = number(frame.runway_end_along_ft(), 0);
  object["airplane"] = {{"id", shown.airplane.id},
                        {"name", shown.airplane.name},
                        {"weight_lb", number(shown.conditions.weight_lb, 0)}};
  object["wind"] = wind_to_json(shown.conditions.wind);
  object["traffic"] = traffic_name(shown.conditions.traffic);
  object["box"] = {{"low_ft", number(shown.box.low_ft, 0)}, {"high_ft", number(shown.box.high_ft, 0)}};
  object["gate_height_ft"] = number(shown.technique.gate_height_ft, 0);
  object["spacing_ft"] = number(shown.technique.spacing_ft, 0);
  object["pattern_height_ft"] = number(shown.technique.pattern_height_ft, 0);
  object["glide_speed_kcas"] = number(shown.technique.downwind_speed_kt, 0);
  object["flap_settings_deg"] = Json::array();
  for (const auto& flap : shown.airplane.handbook.flaps)
    object["flap_settings_deg"].push_back(number(flap.setting_deg, 0));
  object["tick_s"] = number(k_decision_s, 1);
  object["phase"] = phase_name(flight.phase);
  object["end"] = end_name(flight.end);
  object["now"] = moment_to_json(flight.now);
  object["slowest_kcas"] = number(flight.limits.slowest_kcas, 0);
  object["fastest_kcas"] = number(flight.limits.fastest_kcas, 0);
  object["slip_forbidden"] = flight.slip_forbidden;
  object["way"] = way_to_json(flight);
  object["touchdown"] = flight.touchdown ? moment_to_json(*flight.touchdown) : Json(nullptr);
  object["assumed"] = shown.assumed;
  return object;
}

Result<std::vector<DeskHold>> read_hands_json(std::string_view bytes, std::string_view name) {
  return read_json_object(bytes, name, [](JsonFields& fields) {
    std::vector<DeskHold> holds;
    fields.expect_schema("glidewright.hands/1");
    for (auto& one : fields.objects("holds")) {
      DeskHold hold;
      hold.ticks = static_cast<int>(std::lround(one.number("ticks", {1.0, 10000.0})));
      hold.hands.bank_deg = one.number("bank_deg", {-90.0, 90.0});
      hold.hands.calibrated_airspeed_kt = one.number("airspeed_kcas", {20.0, 250.0});
      hold.hands.flap_deg = one.number("flap_deg", {0.0, 90.0});
      one.replace_flag("slip", hold.hands.slip);
      one.replace_flag("go_around", hold.hands.go_around);
      one.refuse_unknown_fields();
      holds.push_back(hold);
    }
    return holds;
  });
}

}  // namespace glidewright

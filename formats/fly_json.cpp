#include "formats/fly_json.hpp"

namespace glidewright {
namespace {

const char* end_name(ApproachEnd end) {
  switch (end) {
    case ApproachEnd::touchdown:
      return "touchdown";
    case ApproachEnd::go_around:
      return "go-around";
    case ApproachEnd::ground_contact_short_of_final:
      return "ground-contact-short-of-final";
  }
  return "touchdown";
}

Json moment_or_null(const std::optional<Moment>& moment) {
  return moment ? moment_to_json(*moment) : Json(nullptr);
}

}  // namespace

Json moment_to_json(const Moment& moment) {
  return {{"time_s", number(moment.time_s, 2)},
          {"along_ft", number(moment.along_ft, 1)},
          {"cross_ft", number(moment.cross_ft, 1)},
          {"height_ft", number(moment.height_ft, 1)},
          {"true_airspeed_kt", number(moment.true_airspeed_kt, 1)},
          {"calibrated_airspeed_kt", number(moment.calibrated_airspeed_kt, 1)},
          {"groundspeed_kt", number(moment.groundspeed_kt, 1)},
          {"sink_fpm", number(moment.sink_fpm, 0)},
          {"bank_deg", number(moment.bank_deg, 1)},
          {"heading_true_deg", number(wrap_360_deg(moment.heading_true_deg), 1)},
          {"flap_deg", number(moment.flap_deg, 1)},
          {"slip", number(moment.slip, 2)},
          {"load_factor", number(moment.load_factor, 3)}};
}

Json fly_to_json(const FlownApproach& flown) {
  const Approach& approach = flown.approach;
  Json object;
  object["schema"] = "glidewright.fly/1";
  object["integrator"] = "reference";
  object["end"] = end_name(approach.end);
  object["runway"] = runway_to_json(flown.runway, flown.touchdown_point);
  object["airplane"] = {{"id", flown.airplane.id},
                        {"name", flown.airplane.name},
                        {"weight_lb", number(flown.conditions.weight_lb, 0)}};
  object["wind"] = wind_to_json(flown.conditions.wind);
  object["touchdown"] = moment_or_null(approach.touchdown);
  object["abeam"] = moment_to_json(approach.abeam);
  object["base_turn"] = moment_to_json(approach.base_turn);
  object["mid_base"] = moment_or_null(approach.mid_base);
  object["final_turn"] = moment_or_null(approach.final_turn);
  object["final"] = moment_or_null(approach.final_leg);
  object["half_mile_final"] = moment_or_null(approach.half_mile_final);
  object["gate"] = moment_or_null(approach.gate);
  object["stable_at_gate"] = approach.gate ? Json(approach.stable_at_gate) : Json(nullptr);
  object["maximum_bank_deg"] = number(approach.maximum_bank_deg, 1);
  object["least_speed_margin"] = number(approach.least_speed_margin, 3);
  object["aim_point_ft"] = approach.touchdown ? number(approach.aim_point_ft, 0) : Json(nullptr);
  if (!approach.trace.empty()) {
    object["trace"] = Json::array();
    for (const auto& moment : approach.trace) object["trace"].push_back(moment_to_json(moment));
  }
  object["assumed"] = flown.assumed;
  object["cautions"] = flown.cautions;
  return object;
}

}  // namespace glidewright

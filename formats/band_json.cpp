#include "formats/band_json.hpp"

namespace glidewright {
namespace {

const char* mean_name(LastChance::Mean mean) {
  switch (mean) {
    case LastChance::Mean::shortest_way:
      return "shortest_way";
    case LastChance::Mean::path:
      return "path";
    case LastChance::Mean::flaps:
      return "flaps";
    case LastChance::Mean::slip:
      break;
  }
  return "slip";
}

Json means_to_json(const AllowedMeans& means) {
  return {{"bank_deg", number(means.bank_deg, 1)},
          {"farthest_past_abeam_ft", number(means.farthest_past_abeam_ft, 0)},
          {"slip", means.slip},
          {"slip_out_height_ft", number(means.slip_out_height_ft, 0)},
          {"gate_height_ft", number(means.gate_height_ft, 0)}};
}

}  // namespace

Json edges_to_json(const Room& room) {
  return {{"lowest_ft", number(room.lowest_ft, 0)},
          {"highest_by_path_ft", number(room.by_path_ft, 0)},
          {"highest_by_flaps_ft", number(room.by_flaps_ft, 0)},
          {"highest_by_slip_ft", number(room.by_slip_ft, 0)}};
}

Json band_along_to_json(const BandAlong& along, double every_s) {
  Json object;
  object["error_ft"] = number(along.error_ft, 0);
  object["empty_because"] = along.empty_because;
  object["places"] = Json::array();
  double next_s = -1e9;
  for (const auto& place : along.places) {
    if (place.time_s < next_s) continue;
    next_s = place.time_s + every_s - 1e-3;
    object["places"].push_back({{"time_s", number(place.time_s, 1)},
                                {"along_ft", number(place.along_ft, 0)},
                                {"cross_ft", number(place.cross_ft, 0)},
                                {"height_ft", number(place.height_ft, 0)},
                                {"nine_in_ten", edges_to_json(place.sure)},
                                {"mean", edges_to_json(place.mean)},
                                {"inside", place.inside()}});
  }
  object["last_chances"] = Json::array();
  for (const auto& chance : along.last_chances) {
    object["last_chances"].push_back({{"mean", mean_name(chance.mean)},
                                      {"time_s", number(chance.time_s, 1)},
                                      {"height_ft", number(chance.height_ft, 0)}});
  }
  return object;
}

Json band_to_json(const BandOfPlan& asked) {
  constexpr double every_s = 2.0;
  const PlanRequest& request = asked.brief.request;
  Json object;
  object["schema"] = "glidewright.band/1";
  object["runway"] = runway_to_json(asked.brief.runway, asked.brief.touchdown_point);
  object["airplane"] = {{"id", request.airplane.id},
                        {"name", request.airplane.name},
                        {"weight_lb", number(request.conditions.weight_lb, 0)}};
  object["wind"] = wind_to_json(request.conditions.wind);
  object["means"] = means_to_json(asked.band.means);
  object["obstacles"] = Json::array();
  for (const Obstacle& obstacle : request.obstacles) {
    object["obstacles"].push_back({{"along_ft", number(obstacle.along_ft, 0)},
                                   {"cross_ft", number(obstacle.cross_ft, 0)},
                                   {"height_ft", number(obstacle.height_ft, 0)},
                                   {"what", obstacle.what}});
  }
  object["obstacle_clearance_ft"] = number(asked.band.obstacle_clearance_ft, 0);
  object["box"] = {{"low_ft", number(request.box.low_ft, 0)}, {"high_ft", number(request.box.high_ft, 0)}};
  object["base_turn_s"] = number(asked.cue_s, 1);
  object["planned"] = asked.planned;
  object["key_points"] = Json::array();
  for (const auto& place : asked.band.places) {
    object["key_points"].push_back({{"at", place.at},
                                    {"nine_in_ten", edges_to_json(place.sure)},
                                    {"mean", edges_to_json(place.mean)},
                                    {"raised_by_obstacles_ft", number(place.raised_by_obstacles_ft, 0)},
                                    {"closed_by_obstacles", place.closed_by_obstacles}});
  }
  object["along"] = band_along_to_json(asked.band.along, every_s);
  object["refusals"] = asked.brief.answer.refusals;
  object["cautions"] = asked.brief.answer.cautions;
  object["assumed"] = asked.brief.answer.assumed;
  return object;
}

}  // namespace glidewright

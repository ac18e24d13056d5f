#include "formats/replay_json.hpp"

#include "formats/band_json.hpp"
#include "formats/time.hpp"

namespace glidewright {
namespace {

Json place_to_json(const ReplayMoment& moment) {
  return {{"t_s", number(moment.time_s, 1)},
          {"along_ft", number(moment.along_ft, 0)},
          {"cross_ft", number(moment.cross_ft, 0)},
          {"height_ft", number(moment.height_ft, 0)},
          {"to_go_ft", number(moment.to_go_ft, 0)}};
}

Json ahead_or_null(const std::optional<LookAhead>& ahead) {
  if (!ahead) return nullptr;
  return {{"along_ft", number(ahead->along_ft, 0)},
          {"cross_ft", number(ahead->cross_ft, 0)},
          {"height_ft", number(ahead->height_ft, 0)},
          {"covered_ft", number(ahead->covered_ft, 0)}};
}

Json reach_or_null(const ReplayMoment& moment) {
  if (!moment.in_reach) return nullptr;
  Json object = edges_to_json(*moment.in_reach);
  object["margin_ft"] = number(moment.in_reach->margin_ft(moment.height_ft), 0);
  return object;
}

Json flown_to_json(const ReplayMoment& moment) {
  Json object = place_to_json(moment);
  object["groundspeed_kt"] = number(moment.groundspeed_kt, 1);
  object["course_true_deg"] = number(moment.course_true_deg, 1);
  object["bank_deg"] = number(moment.bank_deg, 0);
  object["place_sd_ft"] = number(moment.place_sd_ft, 0);
  object["height_sd_ft"] = number(moment.height_sd_ft, 0);
  object["in_20_s"] = ahead_or_null(moment.ahead);
  object["in_reach"] = reach_or_null(moment);
  return object;
}

}  // namespace

void add_replay(Json& attempt, const Replay& replay) {
  constexpr int time_decimals = 1;
  attempt["flown_from"] = iso8601_utc(replay.zero_unix_s, time_decimals);
  attempt["flown"] = Json::array();
  for (const ReplayMoment& moment : replay.flown) attempt["flown"].push_back(flown_to_json(moment));
  attempt["planned"] = Json::array();
  for (const ReplayMoment& moment : replay.planned) attempt["planned"].push_back(place_to_json(moment));
}

}  // namespace glidewright

#include "formats/own_drill_json.hpp"

#include <array>
#include <cmath>

#include "formats/drill_over_time.hpp"
#include "formats/sha256.hpp"
#include "formats/time.hpp"
#include "formats/words/own_drill_words.hpp"

namespace glidewright {
namespace {

constexpr std::array<const char*, 7> k_remedies{"nothing", "flaps_held", "shorter_way", "longer_way",
                                                "flaps",   "slip",       "none"};
constexpr std::array<const char*, 4> k_legs{"base_turn", "base", "final_turn", "final"};

Json place_to_json(const Moment& moment) {
  return {{"time_s", number(moment.time_s, 1)},
          {"along_ft", number(moment.along_ft, 0)},
          {"cross_ft", number(moment.cross_ft, 0)},
          {"height_ft", number(moment.height_ft, 0)}};
}

Json way_to_json(const std::vector<Moment>& moments) {
  Json list = Json::array();
  for (const Moment& one : moments) list.push_back(place_to_json(one));
  return list;
}

Json asked_to_json(const OwnAsked& one) {
  const Situation& situation = one.own.situation;
  Json object{
      {"number", situation.number},
      {"attempt", one.attempt},
      {"time", iso8601_utc(one.time_unix_s, 0)},
      {"log_name", one.log_name},
      {"index", one.index},
      {"setting", one.setting},
      {"traffic", traffic_name(one.ground.traffic)},
      {"box", {{"low_ft", number(one.ground.box.low_ft, 0)}, {"high_ft", number(one.ground.box.high_ft, 0)}}},
      {"leg", k_legs[static_cast<std::size_t>(situation.leg)]},
      {"words", own_picture_words(one.own)},
      {"flown", way_to_json(situation.flown)},
      {"now", place_to_json(situation.now)}};
  Json answer{{"energy", energy_name(situation.energy)},
              {"chance", number(one.own.chance, 3)},
              {"words", own_verdict_words(one.own)},
              {"touchdown_ft", number(situation.touchdown_ft, 0)},
              {"low95_ft", number(one.own.touchdown_low95_ft, 0)},
              {"high95_ft", number(one.own.touchdown_high95_ft, 0)},
              {"in_20_s", place_to_json(situation.in_20_s)},
              {"to_come", way_to_json(situation.to_come)},
              {"remedy_words", own_remedy_words(one.own)}};
  answer["remedy"] =
      one.own.room_known ? Json(k_remedies[static_cast<std::size_t>(situation.remedy)]) : Json(nullptr);
  object["answer"] = answer;
  return object;
}

}  // namespace

PlanRequest plan_of(const OwnGround& ground) {
  PlanRequest plan;
  plan.conditions.runway_true_deg = ground.runway_true_deg;
  plan.conditions.traffic = ground.traffic;
  plan.box = ground.box;
  plan.threshold_along_ft = ground.threshold_along_ft;
  plan.runway_end_along_ft = ground.runway_end_along_ft;
  return plan;
}

KeptAnswer kept_own_answer(const OwnAsked& asked, Energy said, Sureness sureness,
                           const std::optional<RunwayPoint>& mark, double time_unix_s) {
  const Situation& situation = asked.own.situation;
  KeptAnswer kept;
  kept.setting = asked.setting;
  kept.seed = situation.seed;
  kept.number = situation.number;
  kept.answer = answer_to(situation, said, sureness, mark, asked.ground.runway_true_deg);
  kept.touchdown_ft = situation.touchdown_ft;
  kept.time_unix_s = std::round(1000.0 * time_unix_s) / 1000.0;
  constexpr std::size_t k_digits = 32;
  kept.uid = sha256_hex(answer_to_json(kept).dump()).substr(0, k_digits);
  return kept;
}

Json own_drill_to_json(const OwnDrill& drill, const std::vector<KeptAnswer>& answers) {
  Json object{{"schema", "glidewright.own-drill/1"}, {"seed", drill.seed}, {"situations", Json::array()}};
  for (const OwnAsked& one : drill.asked) object["situations"].push_back(asked_to_json(one));
  object["left_out"] = Json::array();
  for (const auto& [reason, count] : drill.left_out)
    object["left_out"].push_back({{"reason", reason}, {"attempts", count}});
  object["score"] = score_to_json(score_of_kept(answers));
  object["over_time"] = drill_periods_to_json(drill_periods(answers));
  return object;
}

}  // namespace glidewright

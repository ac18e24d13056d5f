#include "formats/own_drill_json.hpp"

#include "formats/drill_over_time.hpp"
#include "formats/time.hpp"
#include "formats/words/own_drill_words.hpp"

namespace glidewright {
namespace {

Json way_to_json(const std::vector<Moment>& moments) {
  Json list = Json::array();
  for (const Moment& one : moments) list.push_back(drill_place_to_json(one));
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
      {"runway",
       {{"designator", one.ground.designator}, {"true_bearing_deg", number(one.ground.runway_true_deg, 1)}}},
      {"threshold_along_ft", number(one.ground.threshold_along_ft, 0)},
      {"runway_end_along_ft", number(one.ground.runway_end_along_ft, 0)},
      {"traffic", traffic_name(one.ground.traffic)},
      {"box", {{"low_ft", number(one.ground.box.low_ft, 0)}, {"high_ft", number(one.ground.box.high_ft, 0)}}},
      {"leg", leg_name(situation.leg)},
      {"words", own_picture_words(one.own)},
      {"flown", way_to_json(situation.flown)},
      {"now", drill_place_to_json(situation.now)},
      {"seat",
       {{"heading_true_deg", number(wrap_360_deg(situation.now.heading_true_deg), 0)},
        {"bank_deg", number(situation.now.bank_deg, 0)},
        {"calibrated_airspeed_kt", number(situation.now.calibrated_airspeed_kt, 0)}}}};
  Json answer{{"energy", energy_name(situation.energy)},
              {"chance", number(one.own.chance, 3)},
              {"words", own_verdict_words(one.own)},
              {"touchdown_ft", number(situation.touchdown_ft, 0)},
              {"low95_ft", number(one.own.touchdown_low95_ft, 0)},
              {"high95_ft", number(one.own.touchdown_high95_ft, 0)},
              {"in_20_s", drill_place_to_json(situation.in_20_s)},
              {"in_20_s_heading_true_deg", number(wrap_360_deg(situation.in_20_s.heading_true_deg), 0)},
              {"to_come", way_to_json(situation.to_come)},
              {"remedy_words", own_remedy_words(one.own)}};
  answer["remedy"] = one.own.room_known ? Json(remedy_name(situation.remedy)) : Json(nullptr);
  answer["lowest_ft"] = one.own.room_known ? number(situation.room.lowest_ft, 0) : Json(nullptr);
  answer["highest_by_slip_ft"] = one.own.room_known ? number(situation.room.by_slip_ft, 0) : Json(nullptr);
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
  return kept_answer(asked.setting, asked.ground.runway_true_deg, asked.own.situation, said, sureness, mark,
                     time_unix_s);
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

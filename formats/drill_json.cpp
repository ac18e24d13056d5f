#include "formats/drill_json.hpp"

#include <fmt/format.h>

#include <array>
#include <cmath>

#include "formats/json_reader.hpp"
#include "formats/kept_json.hpp"
#include "formats/sha256.hpp"
#include "formats/shown.hpp"
#include "formats/time.hpp"
#include "formats/words/drill_words.hpp"

namespace glidewright {
namespace {

constexpr std::array<const char*, 3> k_energies{"low", "on", "high"};
constexpr std::array<const char*, 3> k_sureness{"guess", "fairly", "sure"};
constexpr std::array<const char*, 7> k_remedies{"nothing", "flaps_held", "shorter_way", "longer_way",
                                                "flaps",   "slip",       "none"};
constexpr std::array<const char*, 4> k_legs{"base_turn", "base", "final_turn", "final"};

template <class Enum, std::size_t count>
std::optional<Enum> named(const std::array<const char*, count>& names, std::string_view name) {
  for (std::size_t i = 0; i < count; ++i)
    if (name == names[i]) return static_cast<Enum>(i);
  return std::nullopt;
}

/// One moment a second, and the last.
Json way_to_json(const std::vector<Moment>& moments) {
  Json list = Json::array();
  double next_s = -1e9;
  for (std::size_t i = 0; i < moments.size(); ++i) {
    if (moments[i].time_s < next_s && i + 1 < moments.size()) continue;
    list.push_back(drill_place_to_json(moments[i]));
    next_s = std::floor(moments[i].time_s) + 1.0;
  }
  return list;
}

Json now_to_json(const Moment& moment) {
  Json object = drill_place_to_json(moment);
  object["heading_true_deg"] = number(wrap_360_deg(moment.heading_true_deg), 0);
  object["bank_deg"] = number(moment.bank_deg, 0);
  object["calibrated_airspeed_kt"] = number(moment.calibrated_airspeed_kt, 0);
  object["flap_deg"] = number(moment.flap_deg, 0);
  return object;
}

Json situation_to_json(const Situation& one, const DrillSetting& setting) {
  Json object;
  object["number"] = one.number;
  object["leg"] = leg_name(one.leg);
  object["words"] = drill_picture_words(one);
  object["flown"] = way_to_json(one.flown);
  object["now"] = now_to_json(one.now);
  Json in_20_s = drill_place_to_json(one.in_20_s);
  in_20_s["heading_true_deg"] = number(wrap_360_deg(one.in_20_s.heading_true_deg), 0);
  object["answer"] = {{"energy", energy_name(one.energy)},
                      {"words", drill_verdict_words(one)},
                      {"touchdown_ft", number(one.touchdown_ft, 0)},
                      {"beyond_box_ft", number(one.beyond_box_ft, 0)},
                      {"in_20_s", in_20_s},
                      {"to_come", way_to_json(one.to_come)},
                      {"planned_height_ft", number(one.planned_height_ft, 0)},
                      {"lowest_ft", number(one.room.lowest_ft, 0)},
                      {"highest_by_path_ft", number(one.room.by_path_ft, 0)},
                      {"highest_by_flaps_ft", number(one.room.by_flaps_ft, 0)},
                      {"highest_by_slip_ft", number(one.room.by_slip_ft, 0)},
                      {"touchdown_at_most_ft", number(one.touchdown_at_most_ft, 0)},
                      {"remedy", remedy_name(one.remedy)},
                      {"remedy_words", drill_remedy_words(one, setting)}};
  return object;
}

Json hits_to_json(const Hits& hits) {
  return {{"right", hits.right},
          {"of", hits.of},
          {"low90", number(hits.low90, 3)},
          {"high90", number(hits.high90, 3)}};
}

Json optional_ft(const std::optional<double>& value) {
  return value ? number(*value, 0) : Json(nullptr);
}

}  // namespace

std::string energy_name(Energy energy) {
  return k_energies[static_cast<std::size_t>(energy)];
}
std::string sureness_name(Sureness sureness) {
  return k_sureness[static_cast<std::size_t>(sureness)];
}
std::string leg_name(DrillLeg leg) {
  return k_legs[static_cast<std::size_t>(leg)];
}
std::string remedy_name(Remedy remedy) {
  return k_remedies[static_cast<std::size_t>(remedy)];
}
std::optional<Energy> energy_named(std::string_view name) {
  return named<Energy>(k_energies, name);
}
std::optional<Sureness> sureness_named(std::string_view name) {
  return named<Sureness>(k_sureness, name);
}

Json drill_place_to_json(const Moment& moment) {
  return {{"time_s", number(moment.time_s, 1)},
          {"along_ft", number(moment.along_ft, 0)},
          {"cross_ft", number(moment.cross_ft, 0)},
          {"height_ft", number(moment.height_ft, 0)}};
}

DrillScore score_of_kept(const std::vector<KeptAnswer>& answers) {
  std::vector<DrillAnswer> all;
  for (const KeptAnswer& one : answers) all.push_back(one.answer);
  return score_of(all);
}

KeptAnswer kept_answer(const std::string& setting, double runway_true_deg, const Situation& situation,
                       Energy said, Sureness sureness, const std::optional<RunwayPoint>& mark,
                       double time_unix_s) {
  KeptAnswer kept;
  kept.setting = setting;
  kept.seed = situation.seed;
  kept.number = situation.number;
  kept.answer = answer_to(situation, said, sureness, mark, runway_true_deg);
  kept.touchdown_ft = situation.touchdown_ft;
  kept.time_unix_s = std::round(1000.0 * time_unix_s) / 1000.0;
  constexpr std::size_t k_digits = 32;
  kept.uid = sha256_hex(answer_to_json(kept).dump()).substr(0, k_digits);
  return kept;
}

KeptAnswer kept_answer(const Drill& drill, const Situation& situation, Energy said, Sureness sureness,
                       const std::optional<RunwayPoint>& mark, double time_unix_s) {
  return kept_answer(drill_setting_words(drill), drill.setting.plan.conditions.runway_true_deg, situation,
                     said, sureness, mark, time_unix_s);
}

Json drill_to_json(const Drill& drill, const std::vector<KeptAnswer>& answers) {
  const PlanRequest& plan = drill.setting.plan;
  Json object;
  object["schema"] = "glidewright.drill/1";
  object["seed"] = drill.seed;
  object["runway"] = runway_to_json(drill.runway, drill.touchdown_point);
  object["threshold_along_ft"] = number(plan.threshold_along_ft, 0);
  object["runway_end_along_ft"] = number(plan.runway_end_along_ft, 0);
  object["airplane"] = {{"id", plan.airplane.id},
                        {"name", plan.airplane.name},
                        {"weight_lb", number(plan.conditions.weight_lb, 0)}};
  object["wind"] = wind_to_json(plan.conditions.wind);
  object["traffic"] = traffic_name(plan.conditions.traffic);
  object["box"] = {{"low_ft", number(plan.box.low_ft, 0)}, {"high_ft", number(plan.box.high_ft, 0)}};
  object["setting"] = drill_setting_words(drill);
  object["planned"] = way_to_json(drill.setting.planned.trace);
  object["situations"] = Json::array();
  for (const Situation& one : drill.situations)
    object["situations"].push_back(situation_to_json(one, drill.setting));
  object["answers"] = Json::array();
  for (const KeptAnswer& one : answers) object["answers"].push_back(answer_to_json(one));
  object["score"] = score_to_json(score_of_kept(answers));
  object["assumed"] = drill.assumed;
  return object;
}

Json answer_to_json(const KeptAnswer& one) {
  Json object;
  object["uid"] = one.uid;
  object["setting"] = one.setting;
  object["seed"] = one.seed;
  object["number"] = one.number;
  object["said"] = energy_name(one.answer.said);
  object["truth"] = energy_name(one.answer.truth);
  object["sureness"] = sureness_name(one.answer.sureness);
  object["mark_ahead_ft"] = optional_ft(one.answer.mark_ahead_ft);
  object["mark_right_ft"] = optional_ft(one.answer.mark_right_ft);
  object["touchdown_ft"] = number(one.touchdown_ft, 0);
  object["at"] = iso8601_utc(one.time_unix_s, 3);
  return object;
}

Json answers_to_json(const std::vector<KeptAnswer>& answers) {
  Json object;
  object["schema"] = "glidewright.answers/1";
  object["answers"] = Json::array();
  for (const KeptAnswer& one : answers) object["answers"].push_back(answer_to_json(one));
  return object;
}

KeptAnswer read_answer(JsonFields& fields) {
  KeptAnswer one;
  constexpr JsonRange k_whole{0.0, 9007199254740992.0};
  constexpr JsonRange k_feet{-1e5, 1e5};
  const auto word = [&](const char* name, auto find, auto fallback, const char* expected) {
    const std::string written = fields.text(name);
    const auto found = find(written);
    if (!found) fields.add_problem(name, fmt::format("{} '{}'; expected {}", name, shown(written), expected));
    return found.value_or(fallback);
  };
  one.uid = read_uid(fields);
  one.setting = fields.text("setting");
  one.seed = static_cast<std::uint64_t>(fields.number("seed", k_whole));
  one.number = static_cast<int>(fields.number("number", {1.0, 1e6}));
  one.answer.said = word("said", energy_named, Energy::on, "low, on or high");
  one.answer.truth = word("truth", energy_named, Energy::on, "low, on or high");
  one.answer.sureness = word("sureness", sureness_named, Sureness::fairly, "guess, fairly or sure");
  one.answer.mark_ahead_ft = fields.optional_number("mark_ahead_ft", k_feet);
  one.answer.mark_right_ft = fields.optional_number("mark_right_ft", k_feet);
  one.touchdown_ft = fields.number("touchdown_ft", k_feet);
  one.time_unix_s = read_kept_moment(fields, "at");
  fields.refuse_unknown_fields();
  return one;
}

Result<std::vector<KeptAnswer>> read_answers_json(std::string_view bytes, std::string_view name) {
  return read_json_object(bytes, name, [](JsonFields& fields) {
    std::vector<KeptAnswer> answers;
    fields.expect_schema("glidewright.answers/1");
    for (auto& inside : fields.objects("answers")) answers.push_back(read_answer(inside));
    return answers;
  });
}

Json score_to_json(const DrillScore& score) {
  Json object;
  object["all"] = hits_to_json(score.all);
  for (std::size_t i = 0; i < k_sureness.size(); ++i)
    object[k_sureness[i]] = hits_to_json(score.by_sureness[i]);
  object["said_too_low"] = score.said_too_low;
  object["said_too_high"] = score.said_too_high;
  object["bias_p"] = number(score.bias_p, 4);
  object["marks"] = score.marks;
  object["median_mark_ft"] = optional_ft(score.median_mark_ft);
  object["mean_ahead_ft"] = optional_ft(score.mean_ahead_ft);
  object["mean_ahead_sd_ft"] = optional_ft(score.mean_ahead_sd_ft);
  object["words"] = drill_score_words(score);
  return object;
}

}  // namespace glidewright

#include "formats/debrief_json.hpp"

#include <cmath>

#include "formats/band_json.hpp"
#include "formats/marks_json.hpp"
#include "formats/replay_json.hpp"
#include "formats/time.hpp"

namespace glidewright {
namespace {

constexpr int k_time_decimals = 1;

Json strings(const std::vector<std::string>& texts) {
  return Json(texts);
}

const char* stable_name(Stability::Stable stable) {
  switch (stable) {
    case Stability::Stable::yes:
      return "yes";
    case Stability::Stable::no:
      return "no";
    case Stability::Stable::cannot_tell:
      return "cannot_tell";
  }
  return "cannot_tell";
}

Json log_to_json(const DebriefedLog& debriefed) {
  const Debrief& debrief = debriefed.debrief;
  return {{"format", debrief.log.format},
          {"fixes", debrief.log.fixes.size()},
          {"sha256", debrief.log.sha256},
          {"rate_hz", number(debrief.track.rate_hz, 3)},
          {"file", debriefed.file},
          {"quality", {{"grade", debrief.quality.grade}, {"notes", strings(debrief.quality.notes)}}}};
}

Json wind_estimate_to_json(const WindEstimate& wind) {
  constexpr double k_report_height_ft = 10.0 / k_metres_per_foot;
  WindProfile profile;
  profile.at_10m = {Degrees{wind.from_true_deg}, Knots{wind.speed_kt}};
  profile.power_law_exponent = wind.exponent;
  Json levels = Json::array();
  for (const double height_ft : {k_report_height_ft, 200.0, 500.0, 1000.0}) {
    const Wind at = profile.at(Feet{height_ft});
    levels.push_back({{"height_ft", number(height_ft, 0)},
                      {"speed_kt", number(at.speed.value, 1)},
                      {"from_true_deg", number(at.from_true.value, 0)}});
  }
  return {{"height_ft", number(k_report_height_ft, 1)},     {"speed_kt", number(wind.speed_kt, 1)},
          {"from_true_deg", number(wind.from_true_deg, 0)}, {"speed_sd_kt", number(wind.speed_sd_kt, 1)},
          {"from_sd_deg", number(wind.from_sd_deg, 0)},     {"profile", std::move(levels)}};
}

Json key_point_to_json(const KeyPoint& point) {
  return {{"time", iso8601_utc(point.time_unix_s, k_time_decimals)},
          {"time_sd_s", number(point.time_sd_s, 1)},
          {"height_ft", number(point.height_ft, 0)},
          {"height_sd_ft", number(point.height_sd_ft, 0)},
          {"along_ft", number(point.place.along_ft, 0)},
          {"cross_ft", number(point.place.cross_ft, 0)},
          {"groundspeed_kt", number(point.groundspeed_kt, 1)},
          {"sink_fpm", number(-point.climb_fpm, 0)},
          {"course_true_deg", number(wrap_360_deg(point.course_true_deg), 1)}};
}

Json key_point_or_null(const std::optional<KeyPoint>& point) {
  return point ? key_point_to_json(*point) : Json(nullptr);
}

Json abeam_to_json(const Attempt& attempt) {
  if (!attempt.abeam) return nullptr;
  Json object = key_point_to_json(*attempt.abeam);
  object["lateral_ft"] = number(std::abs(attempt.abeam->place.cross_ft), 0);
  return object;
}

/// Square to the runway, so that a log without heading can give it.
double angle_past_abeam_deg(const KeyPoint& point) {
  return std::atan2(point.distance_past_abeam_ft(), std::abs(point.place.cross_ft)) / k_radians_per_degree;
}

Json base_turn_to_json(const Attempt& attempt) {
  if (!attempt.base_turn) return nullptr;
  Json object = key_point_to_json(*attempt.base_turn);
  object["distance_past_abeam_ft"] = number(attempt.base_turn->distance_past_abeam_ft(), 0);
  object["angle_past_abeam_deg"] = number(angle_past_abeam_deg(*attempt.base_turn), 1);
  object["seconds_past_abeam"] =
      attempt.abeam ? number(attempt.base_turn->time_unix_s - attempt.abeam->time_unix_s, 1) : Json(nullptr);
  return object;
}

Json gate_to_json(const AttemptDebrief& attempt) {
  if (!attempt.attempt.gate) return nullptr;
  Json object = key_point_to_json(*attempt.attempt.gate);
  const Stability stability = attempt.gate_stability.value_or(Stability{});
  object["stable"] = stable_name(stability.stable);
  object["reasons"] = strings(stability.reasons);
  return object;
}

Json touchdown_or_null(const std::optional<Touchdown>& touchdown) {
  if (!touchdown) return nullptr;
  return {{"time", iso8601_utc(touchdown->time_unix_s, k_time_decimals)},
          {"along_ft", number(touchdown->along_ft, 1)},
          {"low95_ft", number(touchdown->low95_ft, 1)},
          {"high95_ft", number(touchdown->high95_ft, 1)},
          {"cross_ft", number(touchdown->cross_ft, 0)},
          {"groundspeed_kt", number(touchdown->groundspeed_kt, 1)},
          {"basis", touchdown->basis}};
}

Json felt_or_null(const std::optional<FeltLanding>& felt) {
  if (!felt) return nullptr;
  const bool used = felt->left_out_because.empty();
  const auto seconds = [](const std::optional<double>& value) {
    return value ? number(*value, 2) : Json(nullptr);
  };
  return {{"used", used},
          {"left_out_because", used ? Json(nullptr) : Json(felt->left_out_because)},
          {"clock_ahead_s", seconds(felt->clock_ahead_s)},
          {"clock_sd_s", seconds(felt->clock_sd_s)},
          {"bounce_probability", used ? number(felt->bounce_probability, 2) : Json(nullptr)}};
}

void add_bank(Json& object, const std::string& turn, const std::optional<BankEstimate>& bank) {
  const auto degrees = [&](double BankEstimate::*value) {
    return bank ? number((*bank).*value, 0) : Json(nullptr);
  };
  object[turn + "_deg"] = degrees(&BankEstimate::bank_deg);
  object[turn + "_low95_deg"] = degrees(&BankEstimate::low95_deg);
  object[turn + "_high95_deg"] = degrees(&BankEstimate::high95_deg);
}

Json max_bank_to_json(const Attempt& attempt) {
  Json object;
  add_bank(object, "base_turn", attempt.base_turn_bank);
  add_bank(object, "final_turn", attempt.final_turn_bank);
  return object;
}

Json findings_to_json(const std::vector<Finding>& findings) {
  Json list = Json::array();
  for (const auto& finding : findings) {
    list.push_back({{"weight", finding.weight == Finding::Weight::finding ? "finding" : "note"},
                    {"sentence", finding.sentence}});
  }
  return list;
}

Json text_or_null(const std::string& text) {
  return text.empty() ? Json(nullptr) : Json(text);
}

Json box_or_null(const Standard& standard) {
  if (!standard.box) return nullptr;
  return {{"low_ft", number(standard.box->low_ft, 1)}, {"high_ft", number(standard.box->high_ft, 1)}};
}

Json limit_or_null(const std::optional<double>& limit_kt) {
  return limit_kt ? number(*limit_kt, 1) : Json(nullptr);
}

Json speed_grade_or_null(const Grade& grade) {
  if (!grade.speed) return nullptr;
  const SpeedOnFinal& speed = grade.speed->speed;
  return {{"verdict", verdict_name(grade.speed->verdict)},
          {"mean_kcas", number(speed.mean_kcas, 1)},
          {"low95_kcas", number(speed.mean_kcas - 1.96 * speed.sd_kt, 1)},
          {"high95_kcas", number(speed.mean_kcas + 1.96 * speed.sd_kt, 1)},
          {"wanted_kcas", number(speed.wanted_kcas, 1)},
          {"over_kt", limit_or_null(grade.standard.speed_over_kt)},
          {"under_kt", limit_or_null(grade.standard.speed_under_kt)},
          {"from_panel", speed.from_panel},
          {"probability_met", number(grade.speed->probability_met, 3)},
          {"reason", grade.speed->reason}};
}

Json grades_to_json(const std::vector<Grade>& grades) {
  Json list = Json::array();
  for (const auto& grade : grades) {
    const bool has_chance = grade.verdict == Verdict::meets || grade.verdict == Verdict::does_not_meet ||
                            grade.verdict == Verdict::cannot_tell;
    const Standard& standard = grade.standard;
    list.push_back({{"standard", standard.id},
                    {"name", standard.name},
                    {"edition", text_or_null(standard.edition)},
                    {"version", text_or_null(standard.version)},
                    {"set_by", text_or_null(standard.set_by)},
                    {"clause", standard.clause},
                    {"source_state", standard.source_state},
                    {"box", box_or_null(standard)},
                    {"limit_seen", standard.limit_seen},
                    {"verdict", verdict_name(grade.verdict)},
                    {"probability_met", has_chance ? number(grade.probability_met, 3) : Json(nullptr)},
                    {"reason", grade.reason},
                    {"speed", speed_grade_or_null(grade)}});
  }
  return list;
}

void add_causes(Json& object, const Causes& causes) {
  object["causes"] = Json::array();
  for (const auto& cause : causes.causes) {
    object["causes"].push_back({{"cause", cause.cause},
                                {"effect_ft", number(cause.effect_ft, 1)},
                                {"low95_ft", number(cause.low95_ft, 1)},
                                {"high95_ft", number(cause.high95_ft, 1)},
                                {"sentence", cause.sentence},
                                {"undecided", cause.undecided()}});
  }
  const bool offered = !causes.causes.empty();
  const auto if_offered = [&](double value) { return offered ? number(value, 1) : Json(nullptr); };
  object["unexplained_ft"] = if_offered(causes.unexplained_ft);
  object["unexplained_low95_ft"] = if_offered(causes.unexplained_low95_ft);
  object["unexplained_high95_ft"] = if_offered(causes.unexplained_high95_ft);
  object["planned_touchdown_ft"] = if_offered(causes.planned_touchdown_ft);
  object["plan_basis"] = causes.plan_basis;
  object["causes_not_offered_because"] = causes.not_offered_because;
}

Json attempt_to_json(const AttemptDebrief& debriefed) {
  const Attempt& attempt = debriefed.attempt;
  Json object;
  object["index"] = attempt.index;
  object["kind"] = kind_name(attempt.kind);
  object["traffic"] = traffic_name(attempt.traffic);
  object["outcome"] = outcome_name(attempt.outcome);
  object["abeam"] = abeam_to_json(attempt);
  object["idle"] = key_point_or_null(attempt.idle);
  object["base_turn"] = base_turn_to_json(attempt);
  object["base"] = key_point_or_null(attempt.base);
  object["final_turn"] = key_point_or_null(attempt.final_turn);
  object["final"] = key_point_or_null(attempt.final_leg);
  object["gate"] = gate_to_json(debriefed);
  object["flare"] = key_point_or_null(attempt.flare);
  object["touchdown"] = touchdown_or_null(debriefed.touchdown);
  object["touchdown_from_log"] = touchdown_or_null(debriefed.touchdown_from_log);
  object["touchdown_from_positions"] = touchdown_or_null(debriefed.touchdown_from_positions);
  object["felt"] = felt_or_null(debriefed.felt);
  object["marks"] = debriefed.marks ? marks_to_json(*debriefed.marks) : Json(nullptr);
  object["go_around"] = key_point_or_null(attempt.go_around);
  object["projected_touchdown"] = touchdown_or_null(debriefed.projected_touchdown);
  object["max_bank"] = max_bank_to_json(attempt);
  object["findings"] = findings_to_json(debriefed.findings);
  object["grades"] = grades_to_json(debriefed.grades);
  object["airmanship"] = {{"verdict", debriefed.airmanship.verdict},
                          {"reasons", strings(debriefed.airmanship.reasons)}};
  add_causes(object, debriefed.causes);
  constexpr double band_every_s = 4.0;
  object["band"] = debriefed.band ? band_along_to_json(*debriefed.band, band_every_s) : Json(nullptr);
  object["lesson"] = debriefed.lesson;
  object["notes"] = strings(attempt.notes);
  return object;
}

}  // namespace

std::string verdict_name(Verdict verdict) {
  switch (verdict) {
    case Verdict::meets:
      return "meets";
    case Verdict::does_not_meet:
      return "does_not_meet";
    case Verdict::cannot_tell:
      return "cannot_tell";
    case Verdict::not_demonstrated:
      return "not_demonstrated";
    case Verdict::not_graded:
      return "not_graded";
  }
  return "cannot_tell";
}

std::string kind_name(AttemptKind kind) {
  switch (kind) {
    case AttemptKind::power_off:
      return "power-off";
    case AttemptKind::power_assisted:
      return "power-assisted";
    case AttemptKind::unknown:
      return "unknown";
  }
  return "unknown";
}

std::string outcome_name(Outcome outcome) {
  switch (outcome) {
    case Outcome::landed:
      return "landed";
    case Outcome::touch_and_go:
      return "touch-and-go";
    case Outcome::stop_and_go:
      return "stop-and-go";
    case Outcome::go_around:
      return "go-around";
    case Outcome::unfinished:
      return "unfinished";
  }
  return "unfinished";
}

namespace {

Json session_or_null(const std::optional<Session>& session) {
  if (!session) return nullptr;
  const bool leans = !session->cause.empty();
  const auto feet_or_null = [&](double feet) { return leans ? number(feet, 0) : Json(nullptr); };
  return {{"attempts", session->attempts},
          {"changes", strings(session->changes)},
          {"recommendation", session->recommendation},
          {"cause", text_or_null(session->cause)},
          {"mean_ft", feet_or_null(session->mean_ft)},
          {"low95_ft", feet_or_null(session->low95_ft)},
          {"high95_ft", feet_or_null(session->high95_ft)}};
}

}  // namespace

Json debrief_to_json(const DebriefedLog& debriefed, JsonPath path) {
  const Debrief& debrief = debriefed.debrief;
  Json object;
  object["schema"] = "glidewright.debrief/1";
  object["log"] = log_to_json(debriefed);
  object["runway"] = runway_to_json(debrief.frame.runway(), debrief.frame.touchdown_point_past_threshold());
  object["airplane"] = {{"id", debriefed.airplane_id}, {"name", debriefed.airplane_name}};
  object["wind_estimate"] = wind_estimate_to_json(debrief.wind);
  object["attempts"] = Json::array();
  for (const auto& attempt : debrief.attempts) {
    Json one = attempt_to_json(attempt);
    if (path == JsonPath::with_path) add_replay(one, replay_of(attempt, debrief));
    object["attempts"].push_back(std::move(one));
  }
  object["session"] = session_or_null(debrief.session);
  object["assumed"] = strings(debrief.assumed);
  object["cautions"] = strings(debrief.cautions);
  return object;
}

Json debriefs_to_json(const std::vector<DebriefedLog>& debriefed, JsonPath path) {
  Json object;
  object["schema"] = "glidewright.debriefs/1";
  object["debriefs"] = Json::array();
  for (const auto& one : debriefed) object["debriefs"].push_back(debrief_to_json(one, path));
  return object;
}

}  // namespace glidewright

#include "formats/readiness_json.hpp"

#include <algorithm>
#include <cmath>

#include "formats/flown_by.hpp"
#include "formats/time.hpp"

namespace glidewright {
namespace {

bool is_attempt(const AttemptDebrief& one) {
  return one.attempt.kind != AttemptKind::power_assisted && one.attempt.outcome != Outcome::unfinished;
}

RatedAttempt rated(const AttemptDebrief& one, const Grade& grade) {
  RatedAttempt attempt;
  if (one.attempt.outcome == Outcome::go_around) {
    attempt.end = RatedAttempt::End::went_around;
    // Gone around where the gate was not stable, or where nobody can say that it was.
    attempt.sound_go_around = !one.gate_stability || one.gate_stability->stable != Stability::Stable::yes;
  } else {
    attempt.probability_met = attempt.probability_in_box = grade.probability_met;
  }
  if (one.marks) {
    attempt.flown_by = one.marks->flown_by.value_or(FlownBy::student);
    attempt.forced = one.marks->go_around_forced;
  }
  return attempt;
}

Json share_to_json(const Share& share) {
  return {{"made", number(share.made, 2)}, {"of", share.of}};
}

}  // namespace

ReadinessOfLogs readiness_of(const std::vector<DebriefedLog>& logs, const std::string& standard_id,
                             const ReadinessRules& rules) {
  ReadinessOfLogs result;
  result.standard_id = standard_id;
  result.rules = rules;
  for (const DebriefedLog& log : logs) {
    for (const AttemptDebrief& one : log.debrief.attempts) {
      const auto grade = std::find_if(one.grades.begin(), one.grades.end(),
                                      [&](const Grade& g) { return g.standard.id == standard_id; });
      if (!is_attempt(one) || grade == one.grades.end()) continue;
      result.standard_name = grade->standard.name;
      const double time = one.attempt.zero_unix_s();
      result.attempts.push_back({log.file, one.attempt.index, time, rated(one, *grade)});
    }
  }
  complete_readiness(result);
  return result;
}

void complete_readiness(ReadinessOfLogs& result) {
  std::stable_sort(
      result.attempts.begin(), result.attempts.end(),
      [](const CountedAttempt& a, const CountedAttempt& b) { return a.time_unix_s < b.time_unix_s; });
  double last_day = -1.0;
  std::vector<RatedAttempt> all;
  for (CountedAttempt& one : result.attempts) {
    constexpr double seconds_of_a_day = 86400.0;
    const double day = std::floor(one.time_unix_s / seconds_of_a_day);
    one.rated.first_of_day = day != last_day;
    last_day = day;
    all.push_back(one.rated);
  }
  result.readiness = readiness(all, result.rules);
}

Json readiness_to_json(const ReadinessOfLogs& result) {
  const Readiness& found = result.readiness;
  Json object;
  object["schema"] = "glidewright.readiness/1";
  object["standard"] = result.standard_id;
  object["window"] = result.rules.window;
  object["confidence"] = number(result.rules.confidence, 3);
  object["wanted"] = number(result.rules.wanted, 3);
  object["at_least"] = number(found.at_least, 4);
  object["met"] = share_to_json(found.met);
  object["in_box_of_landed"] = share_to_json(found.in_box_of_landed);
  object["go_around_decisions"] = share_to_json(found.go_around_decisions);
  object["first_of_days"] = share_to_json(found.first_of_days);
  object["next"] = {{"probability", number(found.next_mean, 4)},
                    {"low90", number(found.next_low90, 4)},
                    {"high90", number(found.next_high90, 4)}};
  object["more_without_a_miss"] = found.more_without_a_miss;
  object["left_out"] = {{"not_alone", found.left_out_not_alone}, {"forced", found.left_out_forced}};
  object["left_out"]["flown_by"] = Json::object();
  for (const auto& [flown_by, count] : found.not_alone_by)
    object["left_out"]["flown_by"][flown_by_name(flown_by)] = count;
  object["attempts"] = Json::array();
  for (const CountedAttempt& one : result.attempts) {
    const bool around = one.rated.end == RatedAttempt::End::went_around;
    object["attempts"].push_back({{"file", one.file},
                                  {"index", one.index},
                                  {"time", iso8601_utc(one.time_unix_s, 0)},
                                  {"end", around ? "went-around" : "landed"},
                                  {"probability_met", number(one.rated.probability_met, 3)},
                                  {"student_alone", one.rated.student_alone()},
                                  {"flown_by", flown_by_name(one.rated.flown_by)},
                                  {"forced", one.rated.forced},
                                  {"first_of_day", one.rated.first_of_day}});
  }
  return object;
}

}  // namespace glidewright

#include "apps/cli/commands/record/new_flight.hpp"

#include <algorithm>
#include <map>

#include "apps/cli/words/brief_text.hpp"
#include "formats/desk_log.hpp"
#include "formats/file.hpp"
#include "formats/readiness_json.hpp"

namespace glidewright {
namespace {

Circumstances circumstances_of(const DebriefedLog& log, const AttemptDebrief& attempt,
                               const DebriefOptions& options) {
  Circumstances one;
  const Debrief& debrief = log.debrief;
  one.runway = runway_name(debrief.frame.runway());
  one.touchdown_point_ft = options.touchdown_point_ft.value_or(1000.0);
  one.height_unit = options.height_unit;
  one.airplane = log.airplane_id;
  if (options.fleet_airplane) {
    one.fleet_airplane = options.fleet_airplane->fleet_uid;
    one.airplane_profile = options.fleet_airplane->profile_sha256;
  }
  one.wind_kt = debrief.wind.speed_kt;
  one.wind_from_true_deg = debrief.wind.from_true_deg;
  if (attempt.touchdown) {
    one.along_ft = attempt.touchdown->along_ft;
    one.along_low95_ft = attempt.touchdown->low95_ft;
    one.along_high95_ft = attempt.touchdown->high95_ft;
  }
  // Where a go-around was heading is for its debrief; over time only what was landed is compared.
  if (!attempt.touchdown) return one;
  const auto& causes = attempt.causes.causes;
  for (const Cause& cause : causes)
    one.causes.push_back({cause.cause, cause.effect_ft, cause.low95_ft, cause.high95_ft});
  const auto largest = std::max_element(causes.begin(), causes.end(), [](const Cause& a, const Cause& b) {
    return (a.undecided() ? 0.0 : std::abs(a.effect_ft)) < (b.undecided() ? 0.0 : std::abs(b.effect_ft));
  });
  if (largest != causes.end() && !largest->undecided()) {
    one.largest_cause = largest->cause;
    one.largest_cause_ft = largest->effect_ft;
  }
  return one;
}

/// What was marked, attempt by attempt, as it was told.
Result<std::map<int, std::string>> marks_as_told(const DebriefOptions& options) {
  std::map<int, std::string> marks;
  std::string text = options.known_marks;
  if (!options.marks.empty()) {
    auto bytes = read_file(options.marks);
    if (!bytes) return bytes.error();
    text = std::move(*bytes);
  }
  if (text.empty()) return marks;
  // Its reader has been through it: the debrief is done.
  const Json file = Json::parse(text);
  for (const Json& one : file.at("attempts")) marks[one.at("attempt").get<int>()] = one.dump();
  return marks;
}

}  // namespace

Result<NewFlight> new_flight(const std::string& file, const std::string& log_name, DebriefOptions options,
                             const StandardFile& standard) {
  auto bytes = read_file(file);
  if (!bytes) return bytes.error();
  const std::string& standard_id = standard.standard.id;
  options.known_standard = standard.standard;
  const auto debriefed = debrief_log_without_bands(file, options);
  if (!debriefed) return debriefed.error();
  if (is_desk_flight(debriefed->debrief.quality.notes)) return Error{log_name + ": is " + k_desk_note};
  NewFlight flight{log_name, std::move(*bytes), {}, {}, kept_text(standard.standard, standard.bytes)};
  auto marks = marks_as_told(options);
  if (!marks) return marks.error();
  if (debriefed->debrief.quality.grade == "poor") flight.doubts = debriefed->debrief.quality.notes;
  const auto& attempts = debriefed->debrief.attempts;
  for (const CountedAttempt& counted : readiness_of({*debriefed}, standard_id).attempts) {
    const auto same = std::find_if(attempts.begin(), attempts.end(), [&](const AttemptDebrief& other) {
      return other.attempt.index == counted.index;
    });
    Assessment first;
    first.rated = counted.rated;
    first.standard_id = standard_id;
    first.standard_sha256 = flight.standard->sha256;
    if (same != attempts.end()) first.circumstances = circumstances_of(*debriefed, *same, options);
    first.circumstances.marks = (*marks)[counted.index];
    flight.attempts.push_back({counted.index, counted.time_unix_s, first});
  }
  return flight;
}

}  // namespace glidewright

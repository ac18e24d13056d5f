#include "apps/cli/picture/debrief_scene.hpp"

#include <algorithm>
#include <string>

#include "formats/words/numbers.hpp"

namespace glidewright {
namespace {

RunwayPlace place_of(const Touchdown& touchdown) {
  return {touchdown.along_ft, touchdown.low95_ft, touchdown.high95_ft};
}

PlaceKind kind_of(const AttemptDebrief& one) {
  return one.attempt.outcome == Outcome::go_around ? PlaceKind::went_around : PlaceKind::landed;
}

/// Measured, or where a go-around was heading.
std::optional<RunwayPlace> place_of(const AttemptDebrief& one) {
  const auto& known = kind_of(one) == PlaceKind::went_around ? one.projected_touchdown : one.touchdown;
  if (!known) return std::nullopt;
  return place_of(*known);
}

double time_of(const AttemptDebrief& one) {
  if (one.touchdown) return one.touchdown->time_unix_s;
  return one.attempt.go_around ? one.attempt.go_around->time_unix_s : one.attempt.end_time_unix_s;
}

std::string words_for(Verdict verdict) {
  switch (verdict) {
    case Verdict::meets:
      return "meets";
    case Verdict::does_not_meet:
      return "does not meet";
    case Verdict::cannot_tell:
      return "cannot tell";
    case Verdict::not_demonstrated:
      return "not demonstrated";
    case Verdict::not_graded:
      break;
  }
  return "not graded";
}

std::string verdict_words(const AttemptDebrief& one) {
  if (one.attempt.outcome == Outcome::unfinished) return "unfinished: the log ends";
  const auto graded = std::find_if(one.grades.begin(), one.grades.end(),
                                   [](const Grade& grade) { return grade.verdict != Verdict::not_graded; });
  if (graded != one.grades.end()) return words_for(graded->verdict);
  if (!one.grades.empty()) return words_for(Verdict::not_graded);
  return kind_of(one) == PlaceKind::went_around ? "went around" : "";
}

}  // namespace

RulerRow ruler_row(const AttemptDebrief& attempt) {
  constexpr std::size_t k_hours_and_minutes = 5;
  return {attempt.attempt.index, time_of_day(time_of(attempt)).substr(0, k_hours_and_minutes),
          kind_of(attempt), place_of(attempt), verdict_words(attempt)};
}

std::vector<RulerRow> ruler_rows(const Debrief& debrief) {
  std::vector<RulerRow> rows;
  for (const AttemptDebrief& attempt : debrief.attempts) rows.push_back(ruler_row(attempt));
  return rows;
}

LedgerScene ledger_scene(const AttemptDebrief& attempt, Box box) {
  const Causes& causes = attempt.causes;
  LedgerScene scene;
  scene.planned_touchdown_ft = causes.planned_touchdown_ft;
  for (const Cause& cause : causes.causes) {
    scene.causes.push_back({cause.cause, cause.effect_ft, cause.low95_ft, cause.high95_ft});
  }
  scene.kind = kind_of(attempt);
  if (scene.kind == PlaceKind::landed && !causes.causes.empty()) {
    scene.unexplained = LedgerCause{"not explained", causes.unexplained_ft, causes.unexplained_low95_ft,
                                    causes.unexplained_high95_ft};
  }
  scene.touchdown = place_of(attempt);
  scene.box = box;
  scene.no_causes_because = causes.not_offered_because;
  return scene;
}

}  // namespace glidewright

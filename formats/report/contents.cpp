#include "formats/report/contents.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "engine/debrief/airspeed.hpp"
#include "formats/report/flown_path.hpp"
#include "formats/time.hpp"
#include "formats/words/attempt_words.hpp"
#include "formats/words/numbers.hpp"
#include "formats/words/sentences.hpp"

namespace glidewright::report {
namespace {

std::vector<Cell> title_cells(const DebriefedLog& debriefed) {
  const Debrief& debrief = debriefed.debrief;
  const Runway& runway = debrief.frame.runway();
  const WindProfile wind = wind_profile(debrief.wind);
  std::vector<Cell> cells;
  if (!debrief.log.fixes.empty()) {
    const double first = debrief.log.fixes.front().time_unix_s, last = debrief.log.fixes.back().time_unix_s;
    cells.push_back({"Flown", iso8601_utc(first, 0).substr(0, 10),
                     time_of_day(first).substr(0, 5) + " to " + time_of_day(last).substr(0, 5) + " UTC"});
  }
  cells.push_back(
      {"Runway", runway.airfield.empty() ? "runway " + runway.designator : runway.airfield,
       fmt::format("{}{:.0f}° true, point {} ft past the threshold",
                   runway.airfield.empty() ? "" : "runway " + runway.designator + ", ",
                   runway.true_bearing.value, whole(debrief.frame.touchdown_point_past_threshold().value))});
  cells.push_back({"Airplane", debriefed.airplane_name, ""});
  cells.push_back({"Wind, from the track", wind_words(wind),
                   fmt::format("± {:.0f} kt; {}", 2.0 * debrief.wind.speed_sd_kt,
                               components_words(wind.at_10m, runway.true_bearing))});
  cells.push_back({"Log", debrief.quality.grade,
                   fmt::format("{} positions", whole(static_cast<double>(debrief.log.fixes.size())))});
  return cells;
}

std::vector<Runs> safety(const Debrief& debrief) {
  std::vector<Runs> items;
  for (const auto weight : {Finding::Weight::finding, Finding::Weight::note})
    for (const auto& one : debrief.attempts)
      for (const auto& finding : one.findings) {
        if (finding.weight != weight) continue;
        items.push_back({{fmt::format("Attempt {}: {}", one.attempt.index, finding.sentence),
                          weight == Finding::Weight::finding ? Tone::strong : Tone::plain}});
      }
  if (items.empty())
    items.push_back({{"Bank and speed margin as taught in every turn, as far as this log shows."}});
  return items;
}

/// The first standard that grades in full, the others by their verdict.
VerdictWords test_verdict(const AttemptDebrief& one) {
  if (one.grades.empty()) return {};
  const auto graded = std::find_if(one.grades.begin(), one.grades.end(),
                                   [](const Grade& grade) { return grade.verdict != Verdict::not_graded; });
  const Grade& first = graded == one.grades.end() ? one.grades.front() : *graded;
  VerdictWords words{"Test", {{verdict_words(first.verdict), Tone::strong}}, {}};
  if (first.verdict == Verdict::cannot_tell)
    words.verdict.push_back({" (" + chance_in_20(first.probability_met) + " for the box)"});
  words.notes.push_back(standard_words(first.standard) + ": " + first.reason + ".");
  if (first.speed) words.notes.push_back(speed_sentence(first));
  for (const auto& line : other_verdicts(one.grades, first)) words.notes.push_back(line);
  return words;
}

std::string stability_words(const Stability& stability) {
  if (stability.stable == Stability::Stable::yes) return "stable";
  if (stability.stable == Stability::Stable::no) return "not stable";
  std::string words = "stable or not, this log cannot tell";
  const char* before = ": ";
  for (const auto& reason : stability.reasons) {
    words += before + reason;
    before = "; ";
  }
  return words;
}

VerdictWords airmanship(const AttemptDebrief& one) {
  VerdictWords words{"Airmanship", {{one.airmanship.verdict, Tone::strong}}, one.airmanship.reasons};
  if (!one.attempt.gate || !one.gate_stability) return words;
  const KeyPoint& gate = *one.attempt.gate;
  words.notes.push_back(
      fmt::format("Gate: {} ft from the point, {:.0f} kt over the ground, sinking {} ft/min; {}.",
                  feet(-gate.place.along_ft), gate.groundspeed_kt, whole(-gate.climb_fpm),
                  stability_words(*one.gate_stability)));
  return words;
}

std::vector<std::array<std::string, 6>> key_points(const Attempt& attempt) {
  std::vector<std::array<std::string, 6>> rows;
  for (const auto& [name, point] : named_key_points(attempt)) {
    rows.push_back({name, decimal(point->time_unix_s - attempt.zero_unix_s(), 1), feet(point->height_ft),
                    feet(point->place.along_ft), feet(point->place.cross_ft), whole(point->groundspeed_kt)});
  }
  return rows;
}

void add_drawing_headings(AttemptContents& contents, const AttemptDebrief& one) {
  const std::string key = one.planned ? "flown solid, plan dashed, a dot every 20 s" : "a dot every 20 s";
  const std::string shaded =
      one.band && one.band->empty_because.empty()
          ? "; shaded: from where the box could be reached in nine of ten winds like the one found"
          : "";
  const bool reached = std::any_of(one.in_reach_from.begin(), one.in_reach_from.end(),
                                   [](const ReachContour& contour) { return !contour.lines.empty(); });
  const std::string lines = reached ? "; outside a thin line, at the height in ft written on it, the box was "
                                      "out of reach in one wind of ten or more"
                                    : "";
  contents.strip = {"Energy strip",
                    "height above the point, ft, against distance to go, ft; " + key + shaded};
  contents.sketch = {"Ground sketch", "landing to the right; " + key + lines};
}

AttemptContents attempt_contents(const AttemptDebrief& one, const Debrief& debrief) {
  AttemptContents contents;
  contents.index = one.attempt.index;
  contents.heading = {fmt::format("Attempt {}", one.attempt.index), attempt_words(one.attempt)};
  if (const auto& touchdown = one.touchdown)
    contents.touchdown = {
        {"Touchdown " + feet_with_interval(touchdown->along_ft, touchdown->low95_ft, touchdown->high95_ft) +
             " ft",
         Tone::strong},
        {" "},
        {touchdown->basis, Tone::note}};
  if (one.marks) contents.marked = marks_sentence(*one.marks);
  if (one.causes.causes.empty()) {
    contents.ledger_heading = {"Ledger", ""};
    contents.no_causes = one.causes.not_offered_because;
  } else {
    contents.ledger_heading = {
        "Ledger", (one.touchdown ? "planned to flown touchdown, in flown order; "
                                 : "planned touchdown to where it was heading, in flown order; ") +
                      one.causes.plan_basis};
    contents.ledger = ledger_rows(one, debrief.box);
  }
  contents.test = test_verdict(one);
  contents.airmanship = airmanship(one);
  add_drawing_headings(contents, one);
  contents.lost = last_chances_sentence(one, debrief.box);
  contents.checklist_heading = {"What no log sees", "for the instructor to tick"};
  const Checklist answers = one.marks ? one.marks->checklist : Checklist{};
  for (std::size_t i = 0; i < k_checklist.size(); ++i)
    contents.checklist.push_back({std::string(k_checklist[i].asked), answers[i]});
  contents.key_points_caption = "Key points: seconds after abeam, feet, knots over the ground";
  contents.key_points_header = {"at", "s", "height", "along", "cross", "kt"};
  contents.key_points = key_points(one.attempt);
  contents.notes = one.attempt.notes;
  contents.lesson = one.lesson;
  return contents;
}

/// Once for the whole log: standards whose limit cannot grade any landing, and why, in their files' own
/// words.
std::vector<std::string> never_graded(const Debrief& debrief) {
  std::vector<std::string> items;
  if (debrief.attempts.empty()) return items;
  for (const Grade& grade : debrief.attempts.front().grades)
    if (!grade.standard.box || !grade.standard.limit_seen) {
      // The list's title says that they are not graded: their own words are enough.
      const bool says_why = !grade.standard.box && !grade.standard.source_state.empty();
      items.push_back(grade.standard.name + ": " + (says_why ? grade.standard.source_state : grade.reason));
    }
  return items;
}

}  // namespace

ReportContents report_contents(const DebriefedLog& debriefed) {
  const Debrief& debrief = debriefed.debrief;
  ReportContents contents;
  contents.heading = {"Debrief", std::string(file_name_of(debriefed.file))};
  if (!debrief.log.fixes.empty())
    contents.day = iso8601_utc(debrief.log.fixes.front().time_unix_s, 0).substr(0, 10);
  contents.cells = title_cells(debriefed);
  contents.safety_title = "Safety first";
  contents.safety = safety(debrief);
  contents.ruler_heading = {"Runway ruler", "where the wheels touched"};
  contents.ruler = ruler_rows(debrief);
  for (const auto& one : debrief.attempts) contents.attempts.push_back(attempt_contents(one, debrief));
  if (debrief.session) {
    TitledList together{"The attempts together", {debrief.session->recommendation}};
    together.items.insert(together.items.end(), debrief.session->changes.begin(),
                          debrief.session->changes.end());
    contents.lists.push_back(std::move(together));
  }
  for (TitledList list :
       {TitledList{"Was assumed", debrief.assumed}, TitledList{"Place not graded", never_graded(debrief)},
        TitledList{"About this log", debrief.quality.notes}, TitledList{"Cautions", debrief.cautions}})
    if (!list.items.empty()) contents.lists.push_back(std::move(list));
  contents.safety_sentence = debrief_safety_sentence();
  contents.fingerprint = "Log SHA-256 " + debrief.log.sha256;
  return contents;
}

}  // namespace glidewright::report

#include "apps/cli/words/debrief_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "apps/cli/picture/debrief_scene.hpp"
#include "apps/cli/picture/on_page.hpp"
#include "apps/cli/words/brief_text.hpp"
#include "engine/debrief/airspeed.hpp"
#include "formats/words/attempt_words.hpp"
#include "formats/words/numbers.hpp"
#include "formats/words/sentences.hpp"

namespace glidewright {
namespace {

std::string plural(std::size_t count, const std::string& one) {
  return fmt::format("{} {}{}", count, one, count == 1 ? "" : "s");
}

std::string rate_words(double rate_hz) {
  if (rate_hz <= 0.0) return "at no steady rate";
  if (rate_hz < 0.95) return fmt::format("one every {:.0f} s", 1.0 / rate_hz);
  return rate_hz < 1.05 ? "one a second" : fmt::format("{:.0f} a second", rate_hz);
}

std::string wind_estimate_words(const Debrief& debrief) {
  const WindEstimate& wind = debrief.wind;
  const WindProfile profile = wind_profile(wind);
  return fmt::format("from the track, 10 m up: {} ± {:.0f} kt: {}", wind_words(profile),
                     2.0 * wind.speed_sd_kt,
                     components_words(profile.at_10m, debrief.frame.runway().true_bearing));
}

std::string inputs_text(const DebriefedLog& debriefed, const Page& page) {
  const Debrief& debrief = debriefed.debrief;
  const Runway& runway = debrief.frame.runway();
  std::string text = labelled("Log",
                              fmt::format("{}: {} positions, {}; quality {}", debriefed.file,
                                          whole(static_cast<double>(debrief.log.fixes.size())),
                                          rate_words(debrief.track.rate_hz), debrief.quality.grade),
                              page);
  for (const auto& note : debrief.quality.notes) text += labelled("", note, page);
  text += labelled("Runway",
                   fmt::format("{}: {:.0f}° true, elevation {} ft; the point is {} ft past the threshold",
                               runway_name(runway), runway.true_bearing.value, whole(runway.elevation.value),
                               whole(debrief.frame.touchdown_point_past_threshold().value)),
                   page);
  text += labelled("Airplane", debriefed.airplane_name, page);
  return text + labelled("Wind", wind_estimate_words(debrief), page);
}

/// Findings of every attempt before any score; what is only worth a note after them.
std::string safety_text(const Debrief& debrief, const Page& page) {
  std::string text = heading("Safety first");
  bool said = false;
  for (const auto weight : {Finding::Weight::finding, Finding::Weight::note}) {
    for (const auto& one : debrief.attempts) {
      for (const auto& finding : one.findings) {
        if (finding.weight != weight) continue;
        said = true;
        const std::string sentence = fmt::format("Attempt {}: {}", one.attempt.index, finding.sentence);
        text += wrapped(weight == Finding::Weight::finding ? inked(ink::k_strong, sentence) : sentence,
                        {2, 4}, page);
      }
    }
  }
  if (!said)
    text += wrapped("Bank and speed margin as taught in every turn, as far as this log shows.", {2, 2}, page);
  return text;
}

/// The first standard in full, the others by their verdict.
std::string test_text(const AttemptDebrief& one, const Page& page) {
  if (one.grades.empty()) return {};
  const Grade& first = one.grades.front();
  std::string chance;
  if (first.verdict == Verdict::cannot_tell)
    chance = fmt::format(" ({} for the box)", chance_in_20(first.probability_met));
  std::string text = labelled("Test",
                              fmt::format("{}{}: {}; {}", verdict_words(first.verdict), chance, first.reason,
                                          standard_words(first.standard)),
                              page);
  std::string others = speed_sentence(first);
  for (const auto& line : other_verdicts(one.grades, first)) others += (others.empty() ? "" : " ") + line;
  return others.empty() ? text : text + labelled("", others, page);
}

std::string airmanship_text(const AttemptDebrief& one, const Page& page) {
  std::string words = one.airmanship.verdict;
  for (const auto& reason : one.airmanship.reasons)
    words += (&reason == &one.airmanship.reasons.front() ? ": " : " ") + reason;
  return labelled("Airmanship", words, page);
}

std::string touchdown_text(const AttemptDebrief& one, const Page& page) {
  if (one.touchdown) {
    const Touchdown& touchdown = *one.touchdown;
    std::string from_log;
    const auto add = [&](const std::optional<Touchdown>& other, const char* whose) {
      if (!other) return;
      from_log +=
          labelled("",
                   fmt::format("{}: {} ft.", whose,
                               feet_with_interval(other->along_ft, other->low95_ft, other->high95_ft)),
                   page);
    };
    add(one.touchdown_from_log,
        one.touchdown_from_positions ? "Log and accelerometer alone" : "The log alone");
    add(one.touchdown_from_positions, "Positions alone");
    return labelled(
               "Touchdown",
               fmt::format("{} ft, 95 in 100; {:.0f} kt over the ground. {}",
                           feet_with_interval(touchdown.along_ft, touchdown.low95_ft, touchdown.high95_ft),
                           touchdown.groundspeed_kt, touchdown.basis),
               page) +
           from_log;
  }
  if (one.projected_touchdown) {
    const Touchdown& would = *one.projected_touchdown;
    return labelled(
        "Would have",
        fmt::format("touched at {} ft: {}",
                    feet_with_interval(would.along_ft, would.low95_ft, would.high95_ft), would.basis),
        page);
  }
  return {};
}

std::string gate_text(const AttemptDebrief& one, const Page& page) {
  if (!one.attempt.gate || !one.gate_stability) return {};
  const KeyPoint& gate = *one.attempt.gate;
  std::string stable = "stable";
  if (one.gate_stability->stable == Stability::Stable::no) stable = "not stable";
  if (one.gate_stability->stable == Stability::Stable::cannot_tell)
    stable = "stable or not, this log cannot tell";
  std::string reasons;
  for (const auto& reason : one.gate_stability->reasons) reasons += (reasons.empty() ? ": " : "; ") + reason;
  return labelled(
      "Gate",
      fmt::format("{} ft from the point, {:.0f} kt over the ground, sinking {} ft/min; {}{}",
                  feet(-gate.place.along_ft), gate.groundspeed_kt, whole(-gate.climb_fpm), stable, reasons),
      page);
}

std::string key_points_text(const Attempt& attempt) {
  std::string rows;
  for (const auto& [name, point] : named_key_points(attempt)) {
    rows += fmt::format("  {}{}{}{}{}{}\n", padded_right(name, 14),
                        padded_left(decimal(point->time_unix_s - attempt.zero_unix_s(), 1), 8),
                        padded_left(feet(point->height_ft), 9), padded_left(feet(point->place.along_ft), 9),
                        padded_left(feet(point->place.cross_ft), 9),
                        padded_left(whole(point->groundspeed_kt), 8));
  }
  if (rows.empty()) return {};
  const std::string head =
      fmt::format("  {:<14}{:>8}{:>9}{:>9}{:>9}{:>8}", "", "s", "height", "along", "cross", "kt");
  return inked(ink::k_faint, head) + "\n" + rows;
}

/// An amount and, in a column of its own, what it is of.
std::string beside(const std::string& amount, const std::string& words, const Page& page) {
  constexpr int column = 25;
  return padded_right("  " + amount, column) + wrapped(words, {column, column}, page).substr(column);
}

std::string causes_text(const AttemptDebrief& one, Box box, const Page& page, Pictures pictures) {
  const Causes& causes = one.causes;
  if (causes.causes.empty()) {
    return causes.not_offered_because.empty() ? "" : labelled("Causes", causes.not_offered_because, page);
  }
  std::string text = labelled(
      "Causes",
      fmt::format("planned touchdown {} ft; {}", signed_feet(causes.planned_touchdown_ft), causes.plan_basis),
      page);
  if (pictures == Pictures::drawn) text += draw_ledger(ledger_scene(one, box), picture_style(page));
  std::vector<double> parts_ft{causes.planned_touchdown_ft};
  double total_ft = causes.planned_touchdown_ft + causes.unexplained_ft;
  for (const auto& cause : causes.causes) {
    parts_ft.push_back(cause.effect_ft);
    total_ft += cause.effect_ft;
    text += beside(cause.undecided()
                       ? fmt::format("{} ft, undecided", signed_feet(cause.effect_ft))
                       : feet_with_interval(cause.effect_ft, cause.low95_ft, cause.high95_ft) + " ft",
                   cause.sentence, page);
  }
  if (!one.touchdown) return text;
  // Shifted as a whole by the rounding, so that the interval stays as wide as it is.
  const double rounding_ft = remainder_as_printed_ft(parts_ft, total_ft) - causes.unexplained_ft;
  return text + beside(feet_with_interval(causes.unexplained_ft + rounding_ft,
                                          causes.unexplained_low95_ft + rounding_ft,
                                          causes.unexplained_high95_ft + rounding_ft) +
                           " ft",
                       "Not explained.", page);
}

std::string marks_text(const AttemptDebrief& one, const Page& page) {
  const std::string sentence = one.marks ? marks_sentence(*one.marks) : std::string();
  return sentence.empty() ? "" : labelled("Marked", sentence, page);
}

/// What somebody ticked; nothing where nobody did, for the questions stand on the report.
std::string checklist_text(const AttemptDebrief& one, const Page& page) {
  if (!one.marks) return {};
  const std::string words = checklist_words(one.marks->checklist);
  if (words.empty()) return {};
  const auto left = left_to_tick(one.marks->checklist).size();
  return labelled("Ticked",
                  words + (left > 0 ? fmt::format("; {} not ticked", plural(left, "question")) : "") + ".",
                  page);
}

std::string attempt_text(const AttemptDebrief& one, Box box, const Page& page, Pictures pictures) {
  const Attempt& attempt = one.attempt;
  std::string text = heading(fmt::format("Attempt {}", attempt.index), attempt_words(attempt), page);
  text += touchdown_text(one, page);
  text += marks_text(one, page);
  text += checklist_text(one, page);
  text += test_text(one, page);
  text += airmanship_text(one, page);
  text += gate_text(one, page);
  text += causes_text(one, box, page, pictures);
  if (const auto lost = last_chances_sentence(one, box); !lost.empty()) text += wrapped(lost, {2, 2}, page);
  text += key_points_text(attempt);
  for (const auto& note : attempt.notes) text += labelled("Note", note, page);
  if (!one.lesson.empty()) text += labelled("Lesson", inked(ink::k_strong, one.lesson), page);
  return text;
}

std::string session_text(const Session& session, const Page& page) {
  std::string text = heading("The attempts together", "", page);
  text += wrapped(inked(ink::k_strong, session.recommendation), {2, 2}, page);
  for (const auto& change : session.changes) text += wrapped(change, {2, 4}, page);
  return text;
}

}  // namespace

std::string debrief_text(const DebriefedLog& debriefed, const Page& page, Pictures pictures) {
  const Debrief& debrief = debriefed.debrief;
  std::string text = inputs_text(debriefed, page);
  text += safety_text(debrief, page);
  if (pictures == Pictures::drawn) {
    text += heading("Runway ruler",
                    fmt::format("where the wheels touched, ft past the point; {}",
                                plural(debrief.attempts.size(), "attempt")),
                    page);
    text += draw_runway_ruler(ruler_rows(debrief), debrief.box, picture_style(page));
  }
  for (const auto& one : debrief.attempts) text += attempt_text(one, debrief.box, page, pictures);
  if (debrief.session) text += session_text(*debrief.session, page);
  text += assumed_text(debrief.assumed, page);
  for (const auto& caution : debrief.cautions) text += wrapped(caution, {2, 2}, page);
  return text + "\n" + wrapped(debrief_safety_sentence(), {0, 0}, page);
}

}  // namespace glidewright

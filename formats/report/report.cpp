#include "formats/report/report.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "engine/debrief/airspeed.hpp"
#include "formats/report/bars.hpp"
#include "formats/report/drawings.hpp"
#include "formats/report/flown_path.hpp"
#include "formats/report/markup.hpp"
#include "formats/report/style.hpp"
#include "formats/time.hpp"
#include "formats/words/numbers.hpp"
#include "formats/words/sentences.hpp"

namespace glidewright {
namespace {

using namespace report;

std::string cell(const std::string& label, const std::string& value, const std::string& small) {
  return "<div><dt>" + escaped(label) + "</dt><dd>" + escaped(value) + " <small>" + escaped(small) +
         "</small></dd></div>";
}

std::string head(const std::string& title, const std::string& about) {
  return "<div class=\"head\">" + element("h2", "", title) + element("span", "note", about) + "</div>\n";
}

std::string title_cells(const DebriefedLog& debriefed) {
  const Debrief& debrief = debriefed.debrief;
  const Runway& runway = debrief.frame.runway();
  const WindProfile wind = wind_profile(debrief.wind);
  std::string cells;
  if (!debrief.log.fixes.empty()) {
    const double first = debrief.log.fixes.front().time_unix_s, last = debrief.log.fixes.back().time_unix_s;
    cells += cell("Flown", iso8601_utc(first, 0).substr(0, 10),
                  time_of_day(first).substr(0, 5) + " to " + time_of_day(last).substr(0, 5) + " UTC");
  }
  cells += cell(
      "Runway", runway.airfield.empty() ? "runway " + runway.designator : runway.airfield,
      fmt::format("{}{:.0f}° true, point {} ft past the threshold",
                  runway.airfield.empty() ? "" : "runway " + runway.designator + ", ",
                  runway.true_bearing.value, whole(debrief.frame.touchdown_point_past_threshold().value)));
  cells += cell("Airplane", debriefed.airplane_name, "");
  cells += cell("Wind, from the track", wind_words(wind),
                fmt::format("± {:.0f} kt; {}", 2.0 * debrief.wind.speed_sd_kt,
                            components_words(wind.at_10m, runway.true_bearing)));
  cells += cell("Log", debrief.quality.grade,
                fmt::format("{} positions", whole(static_cast<double>(debrief.log.fixes.size()))));
  return "<dl class=\"cells\">" + cells + "</dl>\n";
}

std::string safety(const Debrief& debrief) {
  std::string items;
  for (const auto weight : {Finding::Weight::finding, Finding::Weight::note})
    for (const auto& one : debrief.attempts)
      for (const auto& finding : one.findings) {
        if (finding.weight != weight) continue;
        const std::string words = escaped(fmt::format("Attempt {}: {}", one.attempt.index, finding.sentence));
        items += weight == Finding::Weight::finding ? "<li><strong>" + words + "</strong></li>"
                                                    : "<li>" + words + "</li>";
      }
  if (items.empty())
    items = "<li>Bank and speed margin as taught in every turn, as far as this log shows.</li>";
  return "<section class=\"safety\"><h2>Safety first</h2><ul>" + items + "</ul></section>\n";
}

/// The first standard that grades in full, the others by their verdict.
std::string test_verdict(const AttemptDebrief& one) {
  if (one.grades.empty()) return {};
  const auto graded = std::find_if(one.grades.begin(), one.grades.end(),
                                   [](const Grade& grade) { return grade.verdict != Verdict::not_graded; });
  const Grade& first = graded == one.grades.end() ? one.grades.front() : *graded;
  std::string text = "<h3>Test</h3><p><strong>" + escaped(verdict_words(first.verdict)) + "</strong>";
  if (first.verdict == Verdict::cannot_tell)
    text += escaped(" (" + chance_in_20(first.probability_met) + " for the box)");
  text += "</p>" + element("p", "note", standard_words(first.standard) + ": " + first.reason + ".");
  for (const auto& line : other_verdicts(one.grades, first)) text += element("p", "note", line);
  return text;
}

std::string airmanship(const AttemptDebrief& one) {
  std::string text = "<h3>Airmanship</h3><p><strong>" + escaped(one.airmanship.verdict) + "</strong></p>";
  for (const auto& reason : one.airmanship.reasons) text += element("p", "note", reason);
  if (one.attempt.gate && one.gate_stability) {
    const KeyPoint& gate = *one.attempt.gate;
    const std::string stable = one.gate_stability->stable == Stability::Stable::yes ? "stable"
                               : one.gate_stability->stable == Stability::Stable::no
                                   ? "not stable"
                                   : "stable or not, this log cannot tell";
    std::string reasons;
    if (one.gate_stability->stable == Stability::Stable::cannot_tell)
      for (const auto& reason : one.gate_stability->reasons)
        reasons += (reasons.empty() ? ": " : "; ") + reason;
    text +=
        element("p", "note",
                fmt::format("Gate: {} ft from the point, {:.0f} kt over the ground, sinking {} ft/min; {}.",
                            feet(-gate.place.along_ft), gate.groundspeed_kt, whole(-gate.climb_fpm),
                            stable + reasons));
  }
  return text;
}

std::string key_points(const Attempt& attempt) {
  std::string rows;
  const auto row = [&](const char* name, const std::optional<KeyPoint>& point) {
    if (!point) return;
    rows +=
        fmt::format("<tr><td>{}</td><td>{}</td><td>{}</td><td>{}</td><td>{}</td><td>{}</td></tr>", name,
                    decimal(point->time_unix_s - zero_of(attempt), 1), feet(point->height_ft),
                    feet(point->place.along_ft), feet(point->place.cross_ft), whole(point->groundspeed_kt));
  };
  row("Abeam", attempt.abeam);
  row("Idle", attempt.idle);
  row("Base turn", attempt.base_turn);
  row("Base", attempt.base);
  row("Final turn", attempt.final_turn);
  row("Final", attempt.final_leg);
  row("Gate", attempt.gate);
  row("Go-around", attempt.go_around);
  if (rows.empty()) return {};
  return "<table><caption class=\"label\">Key points: seconds after abeam, feet, knots over the "
         "ground</caption>"
         "<thead><tr><th>at</th><th>s</th><th>height</th><th>along</th><th>cross</th><th>kt</th></tr></thead>"
         "<tbody>" +
         rows + "</tbody></table>";
}

std::string figure(const std::string& wide, const std::string& small) {
  if (wide.empty()) return {};
  return "<figure><div class=\"wide\">" + wide + "</div><div class=\"small\">" + small + "</div></figure>";
}

std::string drawings(const AttemptDebrief& one, const Debrief& debrief) {
  const std::string strip =
      figure(energy_strip(one, debrief, {640.0, 290.0}), energy_strip(one, debrief, {360.0, 260.0}));
  const std::string sketch =
      figure(ground_sketch(one, debrief, {420.0, 290.0}), ground_sketch(one, debrief, {360.0, 270.0}));
  if (strip.empty() && sketch.empty()) return {};
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
  return "<div class=\"columns\"><div>" +
         head("Energy strip", "height above the point, ft, against distance to go, ft; " + key + shaded) +
         strip + "</div><div>" + head("Ground sketch", "landing to the right; " + key + lines) + sketch +
         "</div></div>\n";
}

std::string causes(const AttemptDebrief& one, Box box, const FeetScale& scale) {
  if (one.causes.causes.empty()) {
    if (one.causes.not_offered_because.empty()) return {};
    return head("Ledger", "") + element("p", "", one.causes.not_offered_because);
  }
  return head("Ledger", "planned to flown touchdown, in flown order; " + one.causes.plan_basis) +
         "<div class=\"ledger\">" + ledger(one, box, scale) + "</div>\n";
}

/// One box of an answer, ticked or to be ticked by hand.
std::string tick_box(const std::optional<bool>& answer, bool means, const char* word) {
  const bool ticked = answer && *answer == means;
  return std::string("<span class=\"tick\"><i>") + (ticked ? "&#10003;" : "") + "</i> " +
         (ticked ? "<strong>" : "") + word + (ticked ? "</strong>" : "") + "</span>";
}

/// The minute after the landing: what no log sees.
std::string checklist(const AttemptDebrief& one) {
  const Checklist answers = one.marks ? one.marks->checklist : Checklist{};
  std::string items;
  for (std::size_t i = 0; i < k_checklist.size(); ++i)
    items += "<li><span>" + escaped(k_checklist[i].asked) + "</span> " + tick_box(answers[i], true, "yes") +
             tick_box(answers[i], false, "no") + "</li>";
  return head("What no log sees", "for the instructor to tick") + "<ul class=\"checklist\">" + items +
         "</ul>\n";
}

std::string attempt_section(const AttemptDebrief& one, const Debrief& debrief, const FeetScale& scale) {
  const Attempt& attempt = one.attempt;
  const double when = attempt.abeam ? attempt.abeam->time_unix_s : attempt.start_time_unix_s;
  std::string kind = kind_name(attempt.kind);
  if (attempt.kind == AttemptKind::unknown) kind = "power off or not, this log cannot tell";
  std::string text = fmt::format("<section class=\"attempt\" id=\"attempt-{}\">", attempt.index) +
                     head(fmt::format("Attempt {}", attempt.index),
                          fmt::format("{} UTC, {}-hand traffic, {}, {}", time_of_day(when),
                                      attempt.traffic == Traffic::left ? "left" : "right", kind,
                                      outcome_name(attempt.outcome)));
  if (one.touchdown)
    text += "<p><strong>Touchdown " +
            feet_with_interval(one.touchdown->along_ft, one.touchdown->low95_ft, one.touchdown->high95_ft) +
            " ft</strong> <span class=\"note\">" + escaped(one.touchdown->basis) + "</span></p>";
  if (one.marks) text += element("p", "note", marks_sentence(*one.marks));
  text += causes(one, debrief.box, scale);
  text +=
      "<div class=\"columns\"><div>" + test_verdict(one) + "</div><div>" + airmanship(one) + "</div></div>\n";
  text += drawings(one, debrief);
  if (const auto lost = last_chances_sentence(one, debrief.box); !lost.empty())
    text += element("p", "", lost);
  text += checklist(one);
  text += key_points(attempt);
  for (const auto& note : attempt.notes) text += element("p", "note", note);
  if (!one.lesson.empty())
    text += "<p class=\"lesson\"><strong>Lesson</strong> " + escaped(one.lesson) + "</p>";
  return text + "</section>\n";
}

std::string list_of(const std::string& title, const std::vector<std::string>& items) {
  if (items.empty()) return {};
  std::string text = "<p><strong>" + title + "</strong></p><ul>";
  for (const auto& item : items) text += element("li", "", item);
  return text + "</ul>";
}

}  // namespace

std::string debrief_report_html(const DebriefedLog& debriefed) {
  const Debrief& debrief = debriefed.debrief;
  const FeetScale scale = scale_of(debrief);
  const std::string day =
      debrief.log.fixes.empty() ? "" : iso8601_utc(debrief.log.fixes.front().time_unix_s, 0).substr(0, 10);
  std::string body = "<header><h1>Debrief</h1><span class=\"note\">" + escaped(file_name_of(debriefed.file)) +
                     "</span></header>\n";
  body += title_cells(debriefed);
  body += safety(debrief);
  body += head("Runway ruler", "where the wheels touched") + "<div class=\"ruler\">" +
          runway_ruler(debrief, scale) + "</div>\n";
  for (const auto& one : debrief.attempts) body += attempt_section(one, debrief, scale);
  body += "<footer>" + list_of("Was assumed", debrief.assumed) +
          list_of("About this log", debrief.quality.notes) + list_of("Cautions", debrief.cautions) +
          element("p", "", debrief_safety_sentence()) +
          element("p", "label", "Log SHA-256 " + debrief.log.sha256) + "</footer>\n";
  return "<!DOCTYPE html>\n<html lang=\"en\"><head><meta charset=\"utf-8\"/>"
         "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\"/><title>Debrief " +
         escaped(day) + "</title><style>" + std::string(k_style) + "</style></head><body>\n" + body +
         "</body></html>\n";
}

}  // namespace glidewright

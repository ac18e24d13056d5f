#include "formats/report/bars.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <vector>

#include "formats/report/markup.hpp"
#include "formats/words/numbers.hpp"
#include "formats/words/sentences.hpp"

namespace glidewright::report {
namespace {

/// Long, short or in the box: shape repeats colour.
const char* side_of(double along_ft, Box box) {
  if (along_ft > box.high_ft) return "long";
  return along_ft < box.low_ft ? "short" : "inside";
}

/// What lies beyond the scale is cut at its ends.
std::string span(double from_ft, double to_ft, std::string_view css_class, const FeetScale& scale) {
  from_ft = std::clamp(from_ft, scale.low_ft(), scale.high_ft());
  to_ft = std::clamp(to_ft, scale.low_ft(), scale.high_ft());
  return fmt::format("<i class=\"{}\" style=\"left:{}%;width:{}%\"></i>", css_class,
                     at(scale.percent(from_ft)), at(scale.percent_of(to_ft - from_ft)));
}

std::string mark(double along_ft, std::string_view shape, const FeetScale& scale) {
  std::string_view path;
  if (shape == "long") path = "M3 2 L14 8 L3 14 Z";
  if (shape == "short") path = "M13 2 L2 8 L13 14 Z";
  if (shape == "inside") path = "M8 3 A5 5 0 1 0 8 13 A5 5 0 1 0 8 3 Z";
  if (shape == "around") path = "M2 12 L8 4 L14 12";
  if (shape == "planned") path = "M8 4 A4 4 0 1 0 8 12 A4 4 0 1 0 8 4 Z";
  return fmt::format(
      "<svg class=\"mark {}\" style=\"left:{}%\" viewBox=\"0 0 16 16\" aria-hidden=\"true\"><path "
      "d=\"{}\"/></svg>",
      shape, at(scale.percent(along_ft)), path);
}

std::string track(const std::string& inside, Box box, const FeetScale& scale) {
  return "<div class=\"track\">" + span(box.low_ft, box.high_ft, "box", scale) + inside + "</div>";
}

std::string axis(const FeetScale& scale) {
  std::string marks;
  for (const double mark_ft : scale.marks_ft())
    marks += fmt::format("<b class=\"{}\" style=\"left:{}%\">{}</b>",
                         mark_ft == scale.low_ft()    ? "first"
                         : mark_ft == scale.high_ft() ? "last"
                                                      : "",
                         at(scale.percent(mark_ft)), signed_feet(mark_ft));
  return "<div class=\"row axis\" aria-hidden=\"true\"><div class=\"amount\"></div><div class=\"track\">" +
         marks + "</div><div class=\"words\">ft past the point; bars 95 in 100</div></div>";
}

std::string row(const std::string& amount, const std::string& track_inside, const std::string& words, Box box,
                const FeetScale& scale) {
  return "<div class=\"row\"><div class=\"amount\">" + amount + "</div>" + track(track_inside, box, scale) +
         "<div class=\"words\">" + words + "</div></div>\n";
}

std::string touchdown_bars(const AttemptDebrief& one, Box box, const FeetScale& scale) {
  if (one.attempt.outcome == Outcome::go_around) {
    if (!one.projected_touchdown) return {};
    const Touchdown& would = *one.projected_touchdown;
    return span(would.low95_ft, would.high95_ft, "interval dashed", scale) +
           mark(would.along_ft, "around", scale);
  }
  if (!one.touchdown) return {};
  const Touchdown& touchdown = *one.touchdown;
  std::string bars;
  if (one.touchdown_from_log)
    bars += span(one.touchdown_from_log->low95_ft, one.touchdown_from_log->high95_ft, "interval thin", scale);
  const char* side = side_of(touchdown.along_ft, box);
  bars += span(touchdown.low95_ft, touchdown.high95_ft, fmt::format("interval {}", side), scale);
  return bars + mark(touchdown.along_ft, side, scale);
}

std::string touchdown_words(const AttemptDebrief& one) {
  if (one.attempt.outcome == Outcome::go_around) {
    if (!one.projected_touchdown) return "<strong>went around</strong>";
    const Touchdown& would = *one.projected_touchdown;
    return "would have " + feet_with_interval(would.along_ft, would.low95_ft, would.high95_ft);
  }
  if (!one.touchdown) return "–";
  const Touchdown& touchdown = *one.touchdown;
  std::string words =
      "<strong>" + feet_with_interval(touchdown.along_ft, touchdown.low95_ft, touchdown.high95_ft);
  words += one.touchdown_from_log ? " marked</strong>" : "</strong>";
  if (one.touchdown_from_log) {
    const Touchdown& log = *one.touchdown_from_log;
    words += " <span class=\"note\">log " + feet_with_interval(log.along_ft, log.low95_ft, log.high95_ft) +
             "</span>";
  }
  return words;
}

const Grade* first_graded(const AttemptDebrief& one) {
  for (const Grade& grade : one.grades)
    if (grade.verdict != Verdict::not_graded) return &grade;
  return nullptr;
}

}  // namespace

FeetScale scale_of(const Debrief& debrief) {
  FeetScale scale;
  for (const AttemptDebrief& one : debrief.attempts) {
    for (const auto* touchdown : {&one.touchdown, &one.touchdown_from_log, &one.projected_touchdown}) {
      if (!*touchdown) continue;
      scale.include((*touchdown)->low95_ft);
      scale.include((*touchdown)->high95_ft);
    }
    double sum_ft = one.causes.planned_touchdown_ft;
    for (const Cause& cause : one.causes.causes) scale.include(sum_ft += cause.effect_ft);
  }
  return scale;
}

std::string runway_ruler(const Debrief& debrief, const FeetScale& scale) {
  std::string rows;
  for (const AttemptDebrief& one : debrief.attempts) {
    const double when = one.touchdown ? one.touchdown->time_unix_s : one.attempt.end_time_unix_s;
    const Grade* grade = first_graded(one);
    std::string words = touchdown_words(one);
    if (grade) words += " <span class=\"verdict\">" + verdict_words(grade->verdict) + "</span>";
    rows += row(fmt::format("<a href=\"#attempt-{0}\"><strong>{0}</strong></a> {1}", one.attempt.index,
                            time_of_day(when).substr(0, 5)),
                touchdown_bars(one, debrief.box, scale), words, debrief.box, scale);
  }
  return rows + axis(scale);
}

std::string ledger(const AttemptDebrief& one, Box box, const FeetScale& scale) {
  const Causes& causes = one.causes;
  std::string rows = row("<span class=\"plan\">" + signed_feet(causes.planned_touchdown_ft) + "</span>",
                         mark(causes.planned_touchdown_ft, "planned", scale),
                         "<strong>Planned touchdown</strong>", box, scale);
  double sum_ft = causes.planned_touchdown_ft;
  std::vector<double> parts_ft{causes.planned_touchdown_ft};
  const auto add = [&](double effect_ft, double low_ft, double high_ft, double printed_ft,
                       const std::string& name, const std::string& sentence) {
    const bool undecided = low_ft <= 0.0 && high_ft >= 0.0;
    const double next_ft = sum_ft + effect_ft;
    const char* side = undecided ? "open" : effect_ft > 0.0 ? "long" : "short";
    const std::string bars =
        span(std::min(sum_ft, next_ft), std::max(sum_ft, next_ft), fmt::format("effect {}", side), scale) +
        span(sum_ft + low_ft, sum_ft + high_ft, "whisker", scale);
    rows += row(fmt::format("<span class=\"{}\">{}</span>{}", side, signed_feet(printed_ft),
                            undecided ? "<span class=\"note\"> undecided</span>" : ""),
                bars,
                "<strong>" + escaped(name) + "</strong> <span class=\"note\">± " +
                    feet(0.5 * (high_ft - low_ft)) + (sentence.empty() ? "" : "; " + escaped(sentence)) +
                    "</span>",
                box, scale);
    sum_ft = next_ft;
  };
  double total_ft = causes.planned_touchdown_ft + causes.unexplained_ft;
  for (const Cause& cause : causes.causes) {
    add(cause.effect_ft, cause.low95_ft, cause.high95_ft, cause.effect_ft, cause.cause, cause.sentence);
    parts_ft.push_back(cause.effect_ft);
    total_ft += cause.effect_ft;
  }
  if (one.touchdown) {
    add(causes.unexplained_ft, causes.unexplained_low95_ft, causes.unexplained_high95_ft,
        remainder_as_printed_ft(parts_ft, total_ft), "not explained",
        "a small rest proves nothing: a fit can hide gusts in wind and airplane");
    rows += row("<strong>" + signed_feet(one.touchdown->along_ft) + "</strong>",
                touchdown_bars(one, box, scale), "<strong>Touchdown</strong>", box, scale);
  }
  return rows + axis(scale);
}

}  // namespace glidewright::report

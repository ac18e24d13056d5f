#include "formats/report/bars.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "formats/report/markup.hpp"
#include "formats/words/numbers.hpp"

namespace glidewright::report {
namespace {

std::string_view side_class(Side side) {
  if (side == Side::to_long) return "long";
  return side == Side::to_short ? "short" : "inside";
}

/// What lies beyond the scale is cut at its ends.
std::string span(double from_ft, double to_ft, std::string_view css_class, const FeetScale& scale) {
  from_ft = std::clamp(from_ft, scale.low_ft(), scale.high_ft());
  to_ft = std::clamp(to_ft, scale.low_ft(), scale.high_ft());
  return fmt::format("<i class=\"{}\" style=\"left:{}%;width:{}%\"></i>", css_class,
                     at(scale.percent(from_ft)), at(scale.percent_of(to_ft - from_ft)));
}

std::string class_of(const Bar& bar) {
  switch (bar.kind) {
    case Bar::Kind::interval:
      return fmt::format("interval {}", side_class(bar.side));
    case Bar::Kind::from_log:
      return "interval thin";
    case Bar::Kind::would_have:
      return "interval dashed";
    case Bar::Kind::effect:
      return fmt::format("effect {}", side_class(bar.side));
    case Bar::Kind::undecided_effect:
      return "effect open";
    case Bar::Kind::whisker:
      break;
  }
  return "whisker";
}

std::string mark(const RowMark& mark, const FeetScale& scale) {
  const auto [name, path] = drawn_as(mark.shape);
  return fmt::format(
      "<svg class=\"mark {}\" style=\"left:{}%\" viewBox=\"0 0 16 16\" aria-hidden=\"true\"><path "
      "d=\"{}\"/></svg>",
      name, at(scale.percent(mark.along_ft)), path);
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
         marks + "</div><div class=\"words\">" + std::string(k_scale_words) + "</div></div>";
}

std::string html_of_row(const BarRow& row, Box box, const FeetScale& scale) {
  std::string bars = span(box.low_ft, box.high_ft, "box", scale);
  for (const Bar& bar : row.bars) bars += span(bar.from_ft, bar.to_ft, class_of(bar), scale);
  if (row.mark) bars += mark(*row.mark, scale);
  const std::string amount = row.attempt > 0 ? fmt::format("<a href=\"#attempt-{}\">{}</a>", row.attempt,
                                                           html_of(Runs{row.amount.front()})) +
                                                   html_of(Runs(row.amount.begin() + 1, row.amount.end()))
                                             : html_of(row.amount);
  return "<div class=\"row\"><div class=\"amount\">" + amount + "</div><div class=\"track\">" + bars +
         "</div><div class=\"words\">" + html_of(row.words) + "</div></div>\n";
}

}  // namespace

MarkDrawing drawn_as(RowMark::Shape shape) {
  switch (shape) {
    case RowMark::Shape::to_long:
      return {"long", "M3 2 L14 8 L3 14 Z"};
    case RowMark::Shape::to_short:
      return {"short", "M13 2 L2 8 L13 14 Z"};
    case RowMark::Shape::inside:
      return {"inside", "M8 3 A5 5 0 1 0 8 13 A5 5 0 1 0 8 3 Z"};
    case RowMark::Shape::went_around:
      return {"around", "M2 12 L8 4 L14 12"};
    case RowMark::Shape::planned:
      break;
  }
  return {"planned", "M8 4 A4 4 0 1 0 8 12 A4 4 0 1 0 8 4 Z"};
}

std::string bars_html(const std::vector<BarRow>& rows, Box box, const FeetScale& scale) {
  std::string html;
  for (const BarRow& row : rows) html += html_of_row(row, box, scale);
  return html + axis(scale);
}

}  // namespace glidewright::report

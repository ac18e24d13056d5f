#include "formats/report/report.hpp"

#include <fmt/format.h>

#include "formats/report/bars.hpp"
#include "formats/report/contents.hpp"
#include "formats/report/drawings.hpp"
#include "formats/report/markup.hpp"
#include "formats/report/style.hpp"

namespace glidewright {
namespace {

using namespace report;

std::string title_cells(const std::vector<Cell>& cells) {
  std::string html;
  for (const Cell& cell : cells)
    html += "<div><dt>" + escaped(cell.label) + "</dt><dd>" + escaped(cell.value) + " <small>" +
            escaped(cell.small) + "</small></dd></div>";
  return "<dl class=\"cells\">" + html + "</dl>\n";
}

std::string head(const Heading& heading) {
  return "<div class=\"head\">" + element("h2", "", heading.title) + element("span", "note", heading.about) +
         "</div>\n";
}

std::string safety(const ReportContents& contents) {
  std::string items;
  for (const Runs& item : contents.safety) items += "<li>" + html_of(item) + "</li>";
  return "<section class=\"safety\">" + element("h2", "", contents.safety_title) + "<ul>" + items +
         "</ul></section>\n";
}

std::string verdict(const VerdictWords& words) {
  if (words.title.empty()) return {};
  std::string html = element("h3", "", words.title) + "<p>" + html_of(words.verdict) + "</p>";
  for (const auto& note : words.notes) html += element("p", "note", note);
  return html;
}

std::string key_points(const AttemptContents& one) {
  if (one.key_points.empty()) return {};
  std::string header, rows;
  for (const auto& name : one.key_points_header) header += element("th", "", name);
  for (const auto& point : one.key_points) {
    rows += "<tr>";
    for (const auto& value : point) rows += element("td", "", value);
    rows += "</tr>";
  }
  return "<table>" + element("caption", "label", one.key_points_caption) + "<thead><tr>" + header +
         "</tr></thead><tbody>" + rows + "</tbody></table>";
}

std::string figure(const std::string& wide, const std::string& small) {
  if (wide.empty()) return {};
  return "<figure><div class=\"wide\">" + wide + "</div><div class=\"small\">" + small + "</div></figure>";
}

std::string drawings(const AttemptContents& contents, const AttemptDebrief& one, const Debrief& debrief) {
  const std::string strip =
      figure(energy_strip(one, debrief, {640.0, 290.0}), energy_strip(one, debrief, {360.0, 260.0}));
  const std::string sketch =
      figure(ground_sketch(one, debrief, {420.0, 290.0}), ground_sketch(one, debrief, {360.0, 270.0}));
  if (strip.empty() && sketch.empty()) return {};
  return "<div class=\"columns\"><div>" + head(contents.strip) + strip + "</div><div>" +
         head(contents.sketch) + sketch + "</div></div>\n";
}

std::string causes(const AttemptContents& one, Box box, const FeetScale& scale) {
  if (!one.ledger.empty())
    return head(one.ledger_heading) + "<div class=\"ledger\">" + bars_html(one.ledger, box, scale) +
           "</div>\n";
  if (one.no_causes.empty()) return {};
  return head(one.ledger_heading) + element("p", "", one.no_causes);
}

/// One box of an answer, ticked or to be ticked by hand.
std::string tick_box(const std::optional<bool>& answer, bool means, const char* word) {
  const bool ticked = answer && *answer == means;
  return std::string("<span class=\"tick\"><i>") + (ticked ? "&#10003;" : "") + "</i> " +
         (ticked ? "<strong>" : "") + word + (ticked ? "</strong>" : "") + "</span>";
}

/// The minute after the landing: what no log sees.
std::string checklist(const AttemptContents& one) {
  std::string items;
  for (const ChecklistItem& item : one.checklist)
    items += "<li><span>" + escaped(item.asked) + "</span> " + tick_box(item.answer, true, "yes") +
             tick_box(item.answer, false, "no") + "</li>";
  return head(one.checklist_heading) + "<ul class=\"checklist\">" + items + "</ul>\n";
}

std::string attempt_section(const AttemptContents& contents, const AttemptDebrief& one,
                            const Debrief& debrief, const FeetScale& scale) {
  std::string text =
      fmt::format("<section class=\"attempt\" id=\"attempt-{}\">", contents.index) + head(contents.heading);
  if (!contents.touchdown.empty()) text += "<p>" + html_of(contents.touchdown) + "</p>";
  if (one.marks) text += element("p", "note", contents.marked);
  text += causes(contents, debrief.box, scale);
  text += "<div class=\"judged\"><div class=\"columns verdicts\"><div>" + verdict(contents.test) +
          "</div><div>" + verdict(contents.airmanship) + "</div></div>\n";
  text += drawings(contents, one, debrief);
  if (!contents.lost.empty()) text += element("p", "", contents.lost);
  text += "<div class=\"facts\"><div>" + checklist(contents) + "</div><div>" + key_points(contents) +
          "</div></div></div>\n";
  for (const auto& note : contents.notes) text += element("p", "note", note);
  if (!contents.lesson.empty())
    text += "<p class=\"lesson\"><strong>Lesson</strong> " + escaped(contents.lesson) + "</p>";
  return text + "</section>\n";
}

std::string list_of(const TitledList& list) {
  std::string text = "<p><strong>" + escaped(list.title) + "</strong></p><ul>";
  for (const auto& item : list.items) text += element("li", "", item);
  return text + "</ul>";
}

std::string footer(const ReportContents& contents) {
  std::string text;
  for (const TitledList& list : contents.lists) text += list_of(list);
  return "<footer>" + text + element("p", "", contents.safety_sentence) +
         element("p", "label", contents.fingerprint) + "</footer>\n";
}

}  // namespace

std::string debrief_report_html(const DebriefedLog& debriefed) {
  const Debrief& debrief = debriefed.debrief;
  const ReportContents contents = report_contents(debriefed);
  const FeetScale scale = scale_of(debrief);
  std::string body = "<header>" + element("h1", "", contents.heading.title) +
                     element("span", "note", contents.heading.about) + "</header>\n";
  body += title_cells(contents.cells);
  body += safety(contents);
  body += head(contents.ruler_heading) + "<div class=\"ruler\">" +
          bars_html(contents.ruler, debrief.box, scale) + "</div>\n";
  for (std::size_t i = 0; i < debrief.attempts.size(); ++i)
    body += attempt_section(contents.attempts[i], debrief.attempts[i], debrief, scale);
  body += footer(contents);
  return "<!DOCTYPE html>\n<html lang=\"en\"><head><meta charset=\"utf-8\"/>"
         "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\"/><title>Debrief " +
         escaped(contents.day) + "</title><style>" + std::string(k_drawing_style) + std::string(k_style) +
         "@media print{:root{" + std::string(k_print_colours) + "}}</style></head><body>\n" + body +
         "</body></html>\n";
}

}  // namespace glidewright

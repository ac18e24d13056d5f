#include "formats/report/card.hpp"

#include <fmt/format.h>

#include <string_view>

#include "formats/report/card_contents.hpp"
#include "formats/report/markup.hpp"
#include "formats/report/plan_drawings.hpp"
#include "formats/report/style.hpp"
#include "formats/words/numbers.hpp"

namespace glidewright {
namespace {

using namespace report;

constexpr std::string_view k_card_style = R"css(
*{box-sizing:border-box}
body{margin:0 auto;max-width:430px;padding:14px 18px;background:#FFF;color:#000;
font:16px/1.35 system-ui,-apple-system,"Segoe UI",Roboto,"Noto Sans",sans-serif;font-variant-numeric:tabular-nums;
-webkit-print-color-adjust:exact;print-color-adjust:exact}
h1{font-size:23px;font-weight:650;margin:0;display:flex;justify-content:space-between;align-items:baseline}
h1 small{font-size:16px;font-weight:400;white-space:nowrap;margin-left:12px}
h2{font-size:16px;font-weight:650;margin:12px 0 0}
p{margin:3px 0}
strong{font-weight:650}
.rule{border-top:1.6px solid #000;margin-top:6px;padding-top:6px}
.cues{display:grid;grid-template-columns:1fr 1fr;gap:0 12px}
.cues b{display:block;font-size:70px;line-height:1;font-weight:650;letter-spacing:-2px}
.cues b small{font-size:28px;letter-spacing:0}
table{border-collapse:collapse;width:100%;margin-top:8px}
th{font-weight:400;font-size:14px;text-align:right;color:#333}
td{text-align:right;border-top:.6px solid #9A9A9A;padding:4px 0;font-size:18px}
th:first-child,td:first-child{text-align:left}
tr.bold td{font-weight:650}
td.room,tr.bold td.room{font-size:14px;font-weight:400;white-space:nowrap;padding-left:8px}
.gate{background:#000;color:#FFF;border-radius:3px;padding:10px 14px;margin:10px 0}
.gate div{display:flex;justify-content:space-between;align-items:baseline}
.gate b{font-size:34px;font-weight:650;line-height:1}
.winds{display:flex;gap:8px;margin:4px 0 8px}
.winds div{flex:1;text-align:center;border:1.6px solid transparent;border-radius:3px;padding:3px 0}
.winds .today{border-color:#000}
.winds b{display:block;font-size:21px;font-weight:650}
.fine{font-size:14px;color:#1C1C1C}
.print{display:none}
.ruler{position:relative;height:22px;border-bottom:1px solid #000;margin:0 24px 0 20px}
.ruler i{position:absolute;bottom:0;width:1px;height:8px;background:#000}
.ruler i.edge{height:16px;width:2px}
.ruler span{position:absolute;left:-18px;bottom:-4px;font-weight:650}
.scale{position:relative;height:16px;margin:0 24px 0 20px;font-size:8pt}
.scale b{position:absolute;transform:translateX(-50%);font-weight:400}
@media print{
@page{size:A5;margin:8mm}
body{max-width:none;padding:0;font-size:8.5pt;line-height:1.2}
p{margin:1px 0}.ruler{height:15px}.rules{font-size:7.5pt}.rule{margin-top:3px;padding-top:3px}table{margin-top:3px}
h1{font-size:15pt}h1 small,h2{font-size:9.5pt}
h2{margin-top:1.5mm}h2+.fine{margin:0}
.cues b{font-size:32pt}.cues b small{font-size:14pt}
td{font-size:9.5pt;padding:1px 0}td:first-child,th{white-space:nowrap}.fine{font-size:8pt}
td.room,tr.bold td.room,th{font-size:7.5pt}
.gate{padding:3px 8px;margin:1.5mm 0}.gate b{font-size:16pt}
.winds{margin:1px 0 3px}.winds div{padding:1px 0}.winds b{font-size:12pt}
.print{display:block}
.plan{display:grid;grid-template:"cues ladder" auto "how ladder" 1fr/44fr 51fr;gap:0 5mm}
.cues{grid-area:cues}.ladder{grid-area:ladder}.how{grid-area:how}.ladder .fine{font-size:7pt}
.drawings{display:flex;gap:3mm;margin-top:2mm}.drawings figure{flex:43;margin:0}.drawings figure+figure{flex:23}
.drawings svg{width:100%;height:auto;display:block}figcaption{font-weight:650}
}
)css";

std::string ladder(const PlannedCard& card) {
  std::string header, rows;
  for (const auto& name : card.ladder_header) header += element("th", "", name);
  for (const Rung& rung : card.ladder) {
    const auto& [place, altimeter, above_field, in_reach] = rung.values;
    rows += (rung.one_of_six ? "<tr class=\"bold\">" : "<tr>") + element("td", "", place) +
            element("td", "", altimeter) + element("td", "", above_field) + element("td", "room", in_reach) +
            "</tr>";
  }
  return "<table><thead><tr>" + header + "</tr></thead><tbody>" + rows + "</tbody></table>\n" +
         (card.ladder_note.empty() ? "" : element("p", "fine", card.ladder_note) + "\n");
}

std::string winds(const PlannedCard& card) {
  if (card.winds.size() < 2) return {};
  std::string cells;
  for (const WindCue& one : card.winds)
    cells += (one.today ? "<div class=\"today\">" : "<div>") + escaped(one.wind) + element("b", "", one.cue) +
             "</div>";
  return element("p", "", card.winds_title) + "<div class=\"winds\">" + cells + "</div>\n";
}

std::string paragraph(const Runs& runs) {
  return runs.empty() ? "" : "<p>" + html_of(runs) + "</p>\n";
}

std::string rulers(const PlannedCard& card, Box box) {
  constexpr double low_ft = -500.0, high_ft = 1500.0;
  const auto percent = [&](double along_ft) {
    return report::at(100.0 * (along_ft - low_ft) / (high_ft - low_ft));
  };
  std::string ticks;
  for (double along = low_ft; along <= high_ft; along += 100.0)
    ticks += fmt::format("<i style=\"left:{}%\"></i>", percent(along));
  for (const double edge : {box.low_ft, box.high_ft})
    ticks += fmt::format("<i class=\"edge\" style=\"left:{}%\"></i>", percent(edge));
  std::string all =
      "<div class=\"print\">" + element("h2", "", card.marks_title) + element("p", "fine", card.marks_about);
  for (int i = 1; i <= 4; ++i) all += fmt::format("<div class=\"ruler\"><span>{}</span>{}</div>", i, ticks);
  all += "<div class=\"scale\">";
  for (const double mark : {-500.0, 0.0, 500.0, 1000.0, 1500.0})
    all += fmt::format("<b style=\"left:{}%\">{}</b>", percent(mark), signed_feet(mark));
  return all + "</div></div>\n";
}

std::string cue_number(const CueNumber& cue) {
  const std::string above =
      cue.above.tone == Tone::strong ? html_of(Runs{cue.above}) : element("span", "fine", cue.above.text);
  const std::string unit = cue.unit.empty() ? "" : " " + element("small", "", cue.unit);
  const std::string small = cue.small.empty() ? "" : "<br/>" + element("span", "fine", cue.small);
  return "<div>" + above + "<b>" + escaped(cue.value) + unit + "</b>" + escaped(cue.below) + small + "</div>";
}

std::string gate(const GateWords& gate) {
  return "<div class=\"gate\"><div><span>" + element("strong", "", gate.title) + " " +
         escaped(gate.above_field) + "</span>" + element("b", "", gate.altimeter) + "</div>" +
         element("p", "", gate.conditions) + "<p>" + element("strong", "", gate.else_what) + "</p></div>\n";
}

/// On paper only: the phone shows words and numbers, large enough for the sun.
std::string drawings(const PlannedCard& card, const Brief& brief) {
  constexpr DrawingSize strip{430.0, 150.0}, sketch{230.0, 150.0};
  return "<div class=\"print drawings\"><figure>" + element("figcaption", "fine", card.strip_title) +
         planned_strip(brief, strip) + "</figure><figure>" +
         element("figcaption", "fine", card.sketch_title) + planned_sketch(brief, sketch) +
         "</figure></div>\n";
}

std::string card_body(const PlannedCard& card, const Brief& brief) {
  // In this order on a phone; on paper the ladder stands beside the other two.
  std::string body = "<div class=\"rule plan\"><div class=\"cues\">" + cue_number(card.cue[0]) +
                     cue_number(card.cue[1]) + "</div>\n<div class=\"ladder\">" + ladder(card) +
                     "</div><div class=\"how\">";
  for (const Runs& line : card.how_to_fly) body += "<p>" + html_of(line) + "</p>";
  body += "</div></div>";
  if (!card.rules.empty()) body += "<p class=\"rules\">" + html_of(card.rules) + "</p>";
  body += drawings(card, brief);
  return body + gate(card.gate) + winds(card) + paragraph(card.shifts) + paragraph(card.odds) +
         rulers(card, brief.request.box);
}

}  // namespace

std::string plan_card_html(const Brief& brief, const std::vector<CueAtWind>& other_winds) {
  const CardContents card = card_contents(brief, other_winds);
  std::string body = "<h1>" + escaped(card.name) + element("small", "", card.traffic) + "</h1><p>" +
                     html_of(card.wind) + "</p>" + element("p", "fine", card.about) + "\n";
  if (card.planned) {
    body += card_body(*card.planned, brief);
  } else {
    body += element("h2", "", card.no_plan);
    for (const auto& reason : card.refusals) body += element("p", "", reason);
  }
  for (const auto& caution : card.cautions) body += element("p", "fine", caution);
  body += element("p", "fine", card.safety_sentence);
  return "<!DOCTYPE html>\n<html lang=\"en\"><head><meta charset=\"utf-8\"/><meta name=\"viewport\" "
         "content=\"width=device-width, initial-scale=1\"/><title>Ramp card</title><style>"
         ":root{" +
         std::string(k_print_colours) + "}" + std::string(k_drawing_style) + std::string(k_card_style) +
         "</style></head><body>\n" + body + "</body></html>\n";
}

}  // namespace glidewright

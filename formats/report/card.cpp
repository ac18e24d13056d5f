#include "formats/report/card.hpp"

#include <fmt/format.h>

#include <cmath>
#include <string_view>

#include "formats/report/markup.hpp"
#include "formats/words/numbers.hpp"
#include "formats/words/sentences.hpp"

namespace glidewright {
namespace {

using report::element;
using report::escaped;

constexpr std::string_view k_style = R"css(
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
.ruler{position:relative;height:22px;border-bottom:1px solid #000;margin:0 0 0 20px}
.ruler i{position:absolute;bottom:0;width:1px;height:8px;background:#000}
.ruler i.edge{height:16px;width:2px}
.ruler span{position:absolute;left:-18px;bottom:-4px;font-weight:650}
.scale{position:relative;height:16px;margin-left:20px;font-size:8pt}
.scale b{position:absolute;transform:translateX(-50%);font-weight:400}
@media print{
@page{size:A5;margin:8mm}
body{max-width:none;padding:0;font-size:9.5pt;line-height:1.22}
p{margin:1px 0}.ruler{height:15px}.rules{font-size:8pt}.rule{margin-top:3px;padding-top:3px}table{margin-top:3px}
h1{font-size:15pt}h1 small,h2{font-size:10pt}
h2{margin-top:2mm}
.cues b{font-size:32pt}.cues b small{font-size:14pt}
td{font-size:11pt;padding:1px 0}td.room,tr.bold td.room,th,.fine{font-size:9pt}
.gate{padding:4px 8px;margin:2mm 0}.gate b{font-size:18pt}
.winds b{font-size:13pt}
.print{display:block}
}
)css";

/// Altimeter, feet above sea level, at a height above the point.
std::string altimeter(const Brief& brief, const Plan& plan, double height_ft) {
  const double field_ft = plan.gate_altimeter_ft - brief.request.technique.gate_height_ft;
  return feet(field_ft + height_ft);
}

std::string ladder(const Brief& brief, const Plan& plan) {
  std::string rows;
  for (const ExpectedHeight& height : plan.key_points) {
    const bool said = height.at == "base turn" || height.at == "final turn" || height.at == "gate";
    const auto room = sure_room_at(brief, height.at);
    rows += fmt::format("<tr{}><td>{}</td><td>{}</td><td>{}</td><td class=\"room\">{}</td></tr>",
                        said ? " class=\"bold\"" : "", escaped(capitalised(height.at)),
                        altimeter(brief, plan, height.height_ft), feet(height.height_ft),
                        room ? feet(room->lowest_ft) + "–" + feet(room->by_slip_ft) : "");
  }
  const std::string note =
      brief.band
          ? "<p class=\"fine\">In reach: the box can be made from there in nine of ten winds; a cross-check, "
            "outside first.</p>\n"
          : "";
  return "<table><thead><tr><th>Place</th><th>altimeter</th><th>above field</th><th>in "
         "reach</th></tr></thead><tbody>" +
         rows + "</tbody></table>\n" + note;
}

std::string winds(const std::vector<CueAtWind>& other_winds, double headwind_kt) {
  if (other_winds.size() < 2) return {};
  std::string cells;
  for (const CueAtWind& one : other_winds) {
    const bool today = std::abs(one.headwind_kt - headwind_kt) <= 0.5;
    cells += fmt::format("<div{}>{} kt<b>{}</b></div>", today ? " class=\"today\"" : "",
                         whole(one.headwind_kt), one.cue_s ? fmt::format("{:.0f} s", *one.cue_s) : "–");
  }
  return "<p>If the wind along the runway is</p><div class=\"winds\">" + cells + "</div>\n";
}

/// "1 s late to turn base −230 ft" of the first few that a pilot can act on.
std::string shifts(const Plan& plan) {
  std::string text;
  for (const Sensitivity& one : plan.sensitivities) {
    const bool kept = one.change.find("late to turn base") != std::string::npos ||
                      one.change.find("fast on final") != std::string::npos ||
                      one.change.find("higher abeam") != std::string::npos;
    if (kept)
      text += (text.empty() ? "" : " · ") + escaped(capitalised(one.change)) + " <strong>" +
              signed_feet(one.touchdown_ft) + " ft</strong>";
  }
  return text.empty() ? text : "<p>" + text + "</p>\n";
}

std::string rulers(Box box) {
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
      "<div class=\"print\"><h2>Mark each touchdown</h2><p class=\"fine\">a stroke where the wheels met; "
      "G for a go-around; ft past the point</p>";
  for (int i = 1; i <= 4; ++i) all += fmt::format("<div class=\"ruler\"><span>{}</span>{}</div>", i, ticks);
  all += "<div class=\"scale\">";
  for (const double mark : {-500.0, 0.0, 500.0, 1000.0, 1500.0})
    all += fmt::format("<b style=\"left:{}%\">{}</b>", percent(mark), signed_feet(mark));
  return all + "</div></div>\n";
}

/// "Base turn above 990 ft: square off base." Heights above the field; only what was shown to help.
std::string rules(const Plan& plan) {
  std::string lines;
  for (const RuleWorth& rule : plan.rules) {
    if (!rule.shown_to_help() || rule.when == "always") continue;
    lines += "<strong>" + escaped(capitalised(rule.at) + " " + rule.when) +
             "</strong>: " + escaped(rule.rule) + ". ";
  }
  return lines.empty() ? lines : "<p class=\"rules\">" + lines + "</p>";
}

std::string slip(const PlanRequest& request) {
  const std::string rule = slip_rule(request);
  return rule.empty() ? rule : "<p>Slip " + escaped(rule) + ".</p>";
}

std::string card_body(const Brief& brief, const Plan& plan, const std::vector<CueAtWind>& other_winds) {
  const Degrees landing{brief.request.conditions.runway_true_deg};
  const WindComponents today = components(brief.request.conditions.wind.at_10m, landing);
  std::string flaps;
  for (const FlapAdvice& flap : plan.flaps)
    flaps +=
        fmt::format("<p>Flap {:.0f}° {}; {}.</p>", flap.setting_deg, escaped(flap.at), escaped(flap.rule));
  std::string body =
      "<div class=\"rule cues\"><div><strong>Turn base</strong><b>" +
      fmt::format("{:.0f} <small>s</small>", plan.cue.seconds_past_abeam) + "</b>past abeam</div>" +
      "<div><span class=\"fine\">outside first</span><b>" + whole(plan.cue.angle_behind_wing_deg) +
      "°</b>behind the wing<br/><span class=\"fine\">" + crab_words(plan.cue) + "</span></div></div>\n";
  body += ladder(brief, plan);
  body += "<p><strong>" + whole(plan.speeds.final_kcas) + " kt</strong> on final. Look " +
          feet(std::abs(plan.looking_spot_ft)) + (plan.looking_spot_ft < 0.0 ? " ft short" : " ft beyond") +
          " of the point.</p>" + flaps + slip(brief.request) + rules(plan);
  body += "<div class=\"gate\"><div><span><strong>Gate</strong> " +
          fmt::format("{:.0f} ft above the field", brief.request.technique.gate_height_ft) + "</span><b>" +
          feet(plan.gate_altimeter_ft) + "</b></div><p>" + escaped(gate_conditions(plan)) +
          "</p><p><strong>Any one missing: go around.</strong></p></div>\n";
  body += winds(other_winds, today.headwind.value);
  body += shifts(plan);
  body += "<p><strong>In the box " + chance_in_20(plan.success.in_box) + "</strong>; a second early " +
          chance_in_20(plan.success.in_box_second_early) + ", late " +
          chance_in_20(plan.success.in_box_second_late) + ".</p>\n";
  return body + rulers(brief.request.box);
}

std::string head(const Brief& brief) {
  const Conditions& conditions = brief.request.conditions;
  const std::string name = brief.runway.airfield.empty()
                               ? brief.runway.designator
                               : brief.runway.airfield + " " + brief.runway.designator;
  std::string wind = "<strong>" + escaped(wind_words(conditions.wind)) + "</strong>";
  if (conditions.wind.at_10m.speed.value >= 0.5)
    wind += " " + escaped(components_words(conditions.wind.at_10m, Degrees{conditions.runway_true_deg}));
  return "<h1>" + escaped(name) + "<small>" + traffic_name(conditions.traffic) + "-hand</small></h1><p>" +
         wind + "</p><p class=\"fine\">" +
         escaped(fmt::format("{}, {} lb; {} °C, {:.0f} hPa ({:.2f} inHg)", brief.request.airplane.name,
                             whole(conditions.weight_lb), whole(brief.temperature_c), brief.altimeter_hpa,
                             to_inches_of_mercury(Hectopascals{brief.altimeter_hpa}).value)) +
         "</p>\n";
}

}  // namespace

std::string plan_card_html(const Brief& brief, const std::vector<CueAtWind>& other_winds) {
  std::string body = head(brief);
  if (brief.answer.plan) {
    body += card_body(brief, *brief.answer.plan, other_winds);
  } else {
    body += "<h2>No plan is offered</h2>";
    for (const auto& reason : brief.answer.refusals) body += element("p", "", reason);
  }
  for (const auto& caution : brief.answer.cautions) body += element("p", "fine", caution);
  body += element("p", "fine", safety_sentence());
  return "<!DOCTYPE html>\n<html lang=\"en\"><head><meta charset=\"utf-8\"/><meta name=\"viewport\" "
         "content=\"width=device-width, initial-scale=1\"/><title>Ramp card</title><style>" +
         std::string(k_style) + "</style></head><body>\n" + body + "</body></html>\n";
}

}  // namespace glidewright

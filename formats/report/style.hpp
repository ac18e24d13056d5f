#pragma once
// The report's one style sheet: tokens of the visual language, screen, phone and print.

#include <string_view>

namespace glidewright::report {

/// White paper, black and greys: the tokens wherever it is printed, the PDF too.
inline constexpr std::string_view k_print_colours =
    "--paper:#FFF;--field:#FFF;--ink:#000;--ink2:#222;--ink3:#444;--rule:#666;--hair:#BBB;--long:#000;"
    "--short:#000;--plan:#444;--box:#DDD;--room:#EEE;";

/// Of the SVG drawings, on the page and on paper.
inline constexpr std::string_view k_drawing_style = R"css(
svg text{font-size:12px;fill:var(--ink)}
svg .label{font-size:11px;fill:var(--ink3)}
svg .name{fill:var(--ink2)}
svg .hair{stroke:var(--hair);stroke-width:.6}
svg .rule{stroke:var(--rule);stroke-width:.8}
svg .axis{stroke:var(--ink);stroke-width:1.2}
svg .tick{stroke:var(--ink);stroke-width:1.6}
svg .flown{fill:none;stroke:var(--ink);stroke-width:2;stroke-linejoin:round}
svg .ribbon{fill:var(--room);stroke:var(--hair);stroke-width:.6}svg .ribbon.flaps{fill:var(--box)}
svg polyline.reach{fill:none;stroke:var(--plan);stroke-width:.7}
svg text.reach{fill:var(--plan);stroke:var(--paper);stroke-width:3;paint-order:stroke}
svg .chance{stroke:var(--ink);stroke-width:1.6}
svg .planned{fill:none;stroke:var(--plan);stroke-width:1.6;stroke-dasharray:6 4}
svg .ghost{fill:var(--paper);stroke:var(--ink);stroke-width:1.4}
svg .place{fill:var(--ink)}
svg .runway{fill:var(--field);stroke:var(--ink);stroke-width:1}
svg .solid{fill:var(--ink)}
svg .box{fill:var(--box)}
svg .interval{stroke:var(--ink);stroke-width:1.4}
svg .from-log{stroke:var(--ink3);stroke-width:.7}
svg .would-have{stroke:var(--ink);stroke-width:1.4;stroke-dasharray:4 3}
svg .hatch{stroke:var(--short);stroke-width:.8}
svg .outline{fill:none;stroke:var(--short);stroke-width:.8}
svg .undecided{fill:var(--field);stroke:var(--ink3);stroke-width:.8}
svg .whisker{stroke:var(--ink3);stroke-width:.8}
svg .row-mark{fill:var(--ink);stroke:var(--ink);stroke-width:1.2}
svg .row-mark.short,svg .row-mark.planned{fill:var(--field);stroke-width:2;stroke-dasharray:none}
svg .row-mark.around{fill:none;stroke-width:2}
)css";

inline constexpr std::string_view k_style = R"css(
:root{--paper:#F7F8F3;--field:#FFF;--ink:#1A211E;--ink2:#4A544E;--ink3:#66706A;--rule:#858E87;--hair:#CDD3CB;
--long:#BC4A14;--short:#0F4A5E;--plan:#52652A;--box:#DCE3C5;--room:#EDF0DF}
*{box-sizing:border-box}
html{-webkit-text-size-adjust:100%}
body{margin:0 auto;max-width:1120px;padding:24px 48px 48px;background:var(--paper);color:var(--ink);
font:13px/1.45 system-ui,-apple-system,"Segoe UI",Roboto,"Noto Sans",sans-serif;font-variant-numeric:tabular-nums}
h1{font-size:22px;font-weight:650;margin:0}
h2{font-size:15px;font-weight:650;margin:0}
h3{font-size:13px;font-weight:650;margin:0 0 2px}
p{margin:4px 0}
strong{font-weight:650}
a{color:inherit}
header{display:flex;justify-content:space-between;align-items:baseline;gap:16px;padding-bottom:8px;
border-bottom:1.6px solid var(--ink)}
.cells{display:flex;flex-wrap:wrap;border-bottom:.8px solid var(--rule);margin-bottom:16px}
.cells div{padding:8px 16px 8px 0;margin-right:16px;border-right:.6px solid var(--hair)}
.cells div:last-child{border:0}
.cells dt,.label{color:var(--ink3);font-size:11px}
.cells dd{margin:0;font-size:15px;font-weight:650}
.cells dd small{font-size:12.5px;font-weight:400;color:var(--ink2)}
.note,.words{color:var(--ink2);font-size:12.5px}
.words strong{color:var(--ink)}
.safety{border:1.6px solid var(--ink);background:var(--field);padding:8px 12px;margin:0 0 20px}
.safety li{margin:2px 0}
ul{margin:4px 0;padding-left:18px}
.head{display:flex;flex-wrap:wrap;gap:0 12px;align-items:baseline;margin:0 0 4px}
.attempt{border-top:1.6px solid var(--ink);margin-top:28px;padding-top:12px}
.row{display:grid;grid-template-columns:112px minmax(0,1fr) minmax(0,400px);gap:0 28px;align-items:center;
min-height:26px;border-bottom:.6px solid var(--hair)}
.row .amount{text-align:right}
.ruler .row .amount{text-align:left}
.track{position:relative;align-self:stretch;min-height:26px}
.track i{position:absolute;display:block}
.track .box{top:0;bottom:0;background:var(--box)}
.interval{top:calc(50% - 1px);height:2px;background:var(--ink)}
.interval.thin{top:calc(50% + 8px);height:1px;background:var(--ink3)}
.interval.dashed{height:0;background:none;border-top:2px dashed var(--ink)}
.interval.long{background:var(--long)}.interval.short{background:var(--short)}
.effect{top:calc(50% - 7px);height:14px;min-width:2px}
.effect.long{background:var(--long)}
.effect.short{background:repeating-linear-gradient(135deg,var(--short) 0 2px,var(--field) 2px 5px);
border:1px solid var(--short)}
.effect.open{border:1px solid var(--ink3);background:var(--field)}
.whisker{top:calc(50% - .7px);height:1.4px;background:var(--ink);opacity:.75}
.mark{position:absolute;top:calc(50% - 8px);width:16px;height:16px;margin-left:-8px;overflow:visible}
.mark path{fill:var(--ink);stroke:var(--ink);stroke-width:1.2}
.mark.long path{fill:var(--long);stroke:var(--long)}
.mark.short path{fill:var(--field);stroke:var(--short);stroke-width:2}
.mark.around path{fill:none;stroke-width:2}
.mark.planned path{fill:var(--field);stroke:var(--plan);stroke-width:2}
.amount .long{color:var(--long);font-weight:650}.amount .short{color:var(--short);font-weight:650}
.amount .plan{color:var(--plan);font-weight:650}.amount .open{color:var(--ink3)}
.row.axis{border:0}
.axis .track{border-top:1.2px solid var(--ink)}
.axis b{position:absolute;top:2px;transform:translateX(-50%);font-weight:400;font-size:11px;color:var(--ink3)}
.columns .head{display:block}
.axis b.first{transform:none}.axis b.last{transform:translateX(-100%)}
.columns{display:grid;grid-template-columns:minmax(0,3fr) minmax(0,2fr);gap:12px 32px;margin-top:12px}
.lesson{border-top:.8px solid var(--rule);margin-top:12px;padding-top:8px;font-size:15px}
figure{margin:0}
figure svg{width:100%;height:auto;display:block}
figure .small{display:none}
table{border-collapse:collapse;width:100%;font-size:12.5px}
th{font-weight:400;color:var(--ink3);font-size:11px;text-align:right}
td{text-align:right;border-top:.6px solid var(--hair);padding:2px 0}
th:first-child,td:first-child{text-align:left}
.checklist{list-style:none;padding:0;display:grid;grid-template-columns:repeat(auto-fill,minmax(330px,1fr));gap:2px 32px}
.checklist li{display:flex;gap:12px;align-items:center;border-bottom:.6px solid var(--hair);padding:2px 0}
.checklist li>span:first-child{flex:1}
.tick{display:inline-flex;gap:4px;align-items:center}
.tick i{display:inline-block;width:13px;height:13px;border:1px solid var(--ink);line-height:11px;text-align:center;
font-style:normal}
footer{border-top:1.6px solid var(--ink);margin-top:28px;padding-top:8px;color:var(--ink2);font-size:12.5px}
@media screen and (max-width:700px){
body{padding:16px 18px;font-size:14px}
header{display:block}
.cells div{border:0;padding:4px 0;margin-right:18px}
.row{grid-template-columns:auto minmax(0,1fr);grid-template-areas:"amount words" "track track";padding:4px 0}
.row .amount{grid-area:amount;text-align:left}.row .words{grid-area:words;font-size:14px}
.row .track{grid-area:track;margin-top:2px}
.axis .words{display:none}
.columns{grid-template-columns:minmax(0,1fr)}
figure .wide{display:none}figure .small{display:block}
.note,table{font-size:13px}
}
.facts{margin-top:8px}
@media print{
@page{size:A4;margin:9mm 10mm}
body{padding:0;max-width:none;font-size:7.5pt;line-height:1.13}
h1{font-size:14pt}h2{font-size:8.6pt}h3,.cells dd,.lesson{font-size:7.6pt}
.words,.note,table,footer,.row .amount,.cells dd small{font-size:7pt}
.label,.cells dt,th,.axis b{font-size:6.8pt}
p{margin:1px 0}ul{margin:1px 0}
header{padding-bottom:3px}
.cells{margin-bottom:5px}.cells div{padding:2px 8px 2px 0;margin-right:8px}
.safety{margin-bottom:6px;padding:4px 8px}.safety ul{columns:2}.safety li{margin:0}
.row{grid-template-columns:22mm 42mm minmax(0,1fr);gap:0 3mm;min-height:13px}.track{min-height:13px}
.row.axis{min-height:15px}.axis b.first,.axis b.last{display:none}
.effect{top:calc(50% - 5px);height:10px}
.mark{width:12px;height:12px;margin-left:-6px;top:calc(50% - 6px)}
.attempt{margin-top:6px;padding-top:4px}
.columns{margin-top:3px;gap:2px 5mm}
.judged{display:grid;grid-template-columns:53mm minmax(0,1fr);gap:0 5mm;align-items:start;break-inside:avoid}
.judged .columns{grid-template-columns:1fr 1fr}
.judged .verdicts{grid-template-columns:minmax(0,1fr)}
.judged .verdicts:not(:only-child){grid-row:1/span 2}
.judged .facts{display:grid;grid-column:2;grid-template-columns:minmax(0,11fr) minmax(0,9fr);gap:0 4mm;margin-top:3px}
.judged>p{grid-row:3;grid-column:1/-1}
.columns .head .note{display:inline}
/* Said once: what the pictures and the ledger are. */
.attempt~.attempt .columns .head .note,.attempt~.attempt>.head:not(:first-child) .note{display:none}
figure .wide{display:none}figure .small{display:block}figure svg{height:35mm}svg text{font-size:13.5px}svg .label{font-size:13px}
.checklist{grid-template-columns:1fr;gap:0}.checklist li{padding:0;gap:5px;font-size:7pt}.tick{gap:2px}.tick i{width:9px;height:9px;line-height:8px}
td{padding:0}td:not(:first-child),th:not(:first-child){padding-left:1mm}
.lesson{margin-top:3px;padding-top:3px}
footer{columns:2;column-gap:8mm;margin-top:6px;padding-top:4px}footer .label{overflow-wrap:anywhere;font-size:6pt}
.safety,.row,figure,table,.lesson{break-inside:avoid}
.head{break-after:avoid}
*{print-color-adjust:exact;-webkit-print-color-adjust:exact}
}
)css";

}  // namespace glidewright::report

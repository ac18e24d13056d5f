#include "apps/cli/words/band_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "apps/cli/words/brief_text.hpp"
#include "formats/words/numbers.hpp"
#include "formats/words/sentences.hpp"

namespace glidewright {
namespace {

std::string row(const std::string& at, const std::string& height, const Room& room) {
  const auto cell = [](double edge_ft) { return padded_left(feet(edge_ft), 9); };
  std::string text = "  " + padded_right(capitalised(at), 17) + padded_left(height, 8);
  if (!room.open()) return text + padded_left("no height is left to choose", 36) + '\n';
  return text + inked(ink::k_strong, cell(room.lowest_ft)) + cell(room.by_path_ft) + cell(room.by_flaps_ft) +
         inked(ink::k_strong, cell(room.by_slip_ft)) + '\n';
}

std::string height_flown(const BandOfPlan& asked, const std::string& at) {
  if (!asked.brief.answer.plan) return "–";
  for (const auto& expected : asked.brief.answer.plan->key_points) {
    if (expected.at == at) return feet(expected.height_ft);
  }
  return "–";
}

std::string means_text(const AllowedMeans& means, const Page& page) {
  return labelled(
      "Means",
      fmt::format("turns of {:.0f}° of bank to the pattern's side; base turn begun by {} ft past abeam; "
                  "flaps as taught; {}; wings level and lined up by {:.0f} ft",
                  means.bank_deg, whole(means.farthest_past_abeam_ft),
                  means.slip ? fmt::format("a slip on final, out by {:.0f} ft", means.slip_out_height_ft)
                             : std::string("no slip"),
                  means.gate_height_ft),
      page);
}

}  // namespace

std::string band_text(const BandOfPlan& asked, const Page& page) {
  const PlanRequest& request = asked.brief.request;
  const Conditions& conditions = request.conditions;
  std::string wind = wind_words(conditions.wind);
  if (conditions.wind.at_10m.speed.value >= 0.5) {
    wind += ": " + components_words(conditions.wind.at_10m, Degrees{conditions.runway_true_deg});
  }
  std::string text = labelled("Runway", runway_name(asked.brief.runway), page);
  text += labelled("Airplane", fmt::format("{}, {} lb", request.airplane.name, whole(conditions.weight_lb)),
                   page);
  text += labelled("Wind", wind, page);
  text += means_text(asked.band.means, page);
  text += labelled("Along",
                   asked.planned
                       ? fmt::format("the plan, base turned {:.0f} s past abeam", asked.cue_s)
                       : fmt::format("base turned {:.0f} s past abeam; no plan is offered here", asked.cue_s),
                   page);
  text += heading("From where the box can be reached",
                  "ft above the field, in nine of ten winds and airplanes; the highest with each mean added",
                  page);
  text += inked(ink::k_faint, fmt::format("  {:<17}{:>8}{:>9}{:>9}{:>9}{:>9}", "", "plan", "lowest", "path",
                                          "+ flaps", "+ slip")) +
          '\n';
  for (const auto& place : asked.band.places)
    text += row(place.at, height_flown(asked, place.at), place.sure);
  if (!asked.band.along.empty_because.empty()) text += wrapped(asked.band.along.empty_because, {2, 2}, page);
  text += wrapped(
      fmt::format("Edges are good to {:.0f} ft where the grid is concerned. Below the gate nothing is left "
                  "to choose, and no room is printed. The heights are cross-checks: outside first.",
                  std::max(10.0, 5.0 * std::ceil(asked.band.along.error_ft / 5.0))),
      {2, 2}, page);
  text += assumed_text(asked.brief.answer.assumed, page);
  text += heading("Before you use this");
  for (const auto& refusal : asked.brief.answer.refusals)
    text += wrapped("No plan: " + refusal, {2, 2}, page);
  for (const auto& caution : asked.brief.answer.cautions) text += wrapped(caution, {2, 2}, page);
  return text + wrapped(safety_sentence(), {2, 2}, page);
}

}  // namespace glidewright

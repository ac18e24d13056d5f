#include "apps/cli/words/band_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "apps/cli/words/brief_text.hpp"
#include "engine/units/words.hpp"
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

/// Empty without obstacles.
std::string obstacles_text(const BandOfPlan& asked, const Page& page) {
  const std::vector<Obstacle>& obstacles = asked.brief.request.obstacles;
  if (obstacles.empty()) return {};
  std::string text;
  for (const Obstacle& obstacle : obstacles) {
    text += fmt::format("{}{}{}{} ft high, {} ft {} the point", text.empty() ? "" : "; ", obstacle.what,
                        obstacle.what.empty() ? "" : " ", whole(obstacle.height_ft),
                        whole(std::abs(obstacle.along_ft)), obstacle.along_ft < 0.0 ? "before" : "past");
    if (std::abs(obstacle.cross_ft) >= 0.5) {
      text += fmt::format(", {} ft {} of the centreline", whole(std::abs(obstacle.cross_ft)),
                          obstacle.cross_ft < 0.0 ? "left" : "right");
    }
  }
  return labelled("Obstacles",
                  text + fmt::format("; passed {} ft above", whole(asked.band.obstacle_clearance_ft)), page);
}

/// Where the obstacles and not the glide decide.
std::string obstacles_decide_text(const BandOfPlan& asked, const Page& page) {
  if (asked.brief.request.obstacles.empty()) return {};
  // Less is within what the grid may be off.
  constexpr double least_ft = 10.0;
  std::string raised, closed;
  for (const RoomAtPlace& place : asked.band.places) {
    if (place.closed_by_obstacles) {
      closed += (closed.empty() ? "" : ", ") + place.at;
    } else if (place.sure.open() && place.raised_by_obstacles_ft >= least_ft) {
      raised += fmt::format("{}{} (+{} ft)", raised.empty() ? "" : ", ", place.at,
                            feet(place.raised_by_obstacles_ft));
    }
  }
  std::string text;
  if (!closed.empty()) text += "The obstacles leave no height that serves at: " + closed + ". ";
  if (!raised.empty()) text += "An obstacle, not the glide, decides the lowest height at: " + raised + ". ";
  if (text.empty()) text = "No obstacle decides: the glide clears each by more than is asked.";
  return wrapped(text, {2, 2}, page);
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
  text += obstacles_text(asked, page);
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
  text += obstacles_decide_text(asked, page);
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

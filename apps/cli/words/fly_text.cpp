#include "apps/cli/words/fly_text.hpp"

#include <fmt/format.h>

#include <cmath>

#include "apps/cli/words/brief_text.hpp"
#include "formats/words/numbers.hpp"

namespace glidewright {
namespace {

std::string row(const std::string& name, const std::optional<Moment>& moment) {
  if (!moment) return {};
  return fmt::format("  {}{}{}{}{}{}{}{}\n", padded_right(name, 16),
                     padded_left(decimal(moment->time_s, 1), 7), padded_left(whole(moment->along_ft), 8),
                     padded_left(whole(moment->cross_ft), 8), padded_left(whole(moment->height_ft), 8),
                     padded_left(whole(moment->calibrated_airspeed_kt), 6),
                     padded_left(whole(moment->sink_fpm), 8), padded_left(whole(moment->flap_deg), 6));
}

std::string end_words(const FlownApproach& flown) {
  const auto& approach = flown.approach;
  switch (approach.end) {
    case ApproachEnd::touchdown: {
      const double along = approach.touchdown->along_ft;
      return fmt::format("Touches down {} ft {} the point at {:.0f} kt.", feet(std::abs(along)),
                         along < 0.0 ? "short of" : "past", approach.touchdown->calibrated_airspeed_kt);
    }
    case ApproachEnd::go_around:
      return "Goes around at the gate: not stable.";
    case ApproachEnd::ground_contact_short_of_final:
      return "Meets the ground before it is lined up on final.";
  }
  return {};
}

std::string gate_words(const Approach& approach) {
  if (!approach.gate || approach.end == ApproachEnd::go_around) return {};
  return approach.stable_at_gate ? "Stable at the gate. " : "Not stable at the gate. ";
}

}  // namespace

std::string fly_text(const FlownApproach& flown, const Page& page) {
  const auto& approach = flown.approach;
  std::string text = labelled("Runway", runway_name(flown.runway), page);
  text += labelled("Airplane",
                   fmt::format("{}, {} lb", flown.airplane.name, whole(flown.conditions.weight_lb)), page);
  text += labelled("Wind", wind_words(flown.conditions.wind), page);
  text += labelled(
      "Cue", fmt::format("base turn {} s past abeam", decimal(flown.technique.base_turn_s_after_abeam, 1)),
      page);
  text += '\n' + inked(ink::k_strong, end_words(flown)) + "\n\n";
  text += inked(ink::k_faint, fmt::format("  {:<16}{:>7}{:>8}{:>8}{:>8}{:>6}{:>8}{:>6}", "", "s", "along",
                                          "cross", "height", "kt", "sink", "flap")) +
          '\n';
  text += row("Abeam", approach.abeam) + row("Base turn", approach.base_turn) +
          row("Mid-base", approach.mid_base) + row("Final turn", approach.final_turn) +
          row("Final", approach.final_leg) + row("Half-mile final", approach.half_mile_final) +
          row("Gate", approach.gate) + row("Touchdown", approach.touchdown);
  text +=
      inked(ink::k_faint, "  ft from the point; seconds past abeam; calibrated airspeed; sink in ft/min") +
      "\n\n";
  text += wrapped(fmt::format("{}Steepest bank {:.0f}°, least speed margin {:.2f} of the stall{}.",
                              gate_words(approach), approach.maximum_bank_deg, approach.least_speed_margin,
                              approach.touchdown ? fmt::format("; the eye looks at {} ft",
                                                               signed_feet(approach.aim_point_ft))
                                                 : ""),
                  {0, 0}, page);
  text += assumed_text(flown.assumed, page);
  if (!flown.cautions.empty()) text += '\n' + inked(ink::k_strong, "Take care") + '\n';
  for (const auto& caution : flown.cautions) text += wrapped(caution, {2, 2}, page);
  return text;
}

}  // namespace glidewright

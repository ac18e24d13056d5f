#include "formats/words/own_drill_words.hpp"

#include <fmt/format.h>

#include <cmath>

#include "formats/words/drill_words.hpp"
#include "formats/words/numbers.hpp"

namespace glidewright {
std::string own_picture_words(const OwnMoment& own) {
  return fmt::format("About {:.0f} kt through the air. Frozen {}.",
                     std::round(own.situation.now.calibrated_airspeed_kt),
                     drill_leg_words(own.situation.leg));
}

std::string own_verdict_words(const OwnMoment& own) {
  const Situation& situation = own.situation;
  const std::string where = fmt::format(
      "{}: it touched down at {} ft", drill_energy_word(situation.energy),
      feet_with_interval(situation.touchdown_ft, own.touchdown_low95_ft, own.touchdown_high95_ft));
  const std::string surely = own.chance < 1.0
                                 ? fmt::format("; the log is {} sure of the side", chance_in_20(own.chance))
                                 : std::string();
  if (situation.energy == Energy::on) return where + ", in the box" + surely + ".";
  return where +
         fmt::format(", {} the box{}.", situation.energy == Energy::high ? "beyond" : "short of", surely);
}

std::string own_remedy_words(const OwnMoment& own) {
  const Room& room = own.situation.room;
  if (own.situation.energy == Energy::on) return "Nothing needed mending.";
  if (!own.room_known) return "The debrief of this log cannot tell.";
  switch (own.situation.remedy) {
    case Remedy::shorter_way:
      return fmt::format("A shorter way in and the flaps held back; from there that serves down to {} ft.",
                         feet(room.lowest_ft));
    case Remedy::longer_way:
      return fmt::format("A longer way alone, up to {} ft there.", feet(room.by_path_ft));
    case Remedy::flaps:
      return fmt::format("A longer way and flaps, up to {} ft there.", feet(room.by_flaps_ft));
    case Remedy::slip:
      return fmt::format("A longer way, flaps and a slip, up to {} ft there; less may not do.",
                         feet(room.by_slip_ft));
    default:
      return "Nothing from there: it was outside what can be reached. Go around.";
  }
}

}  // namespace glidewright

#include "formats/words/drill_words.hpp"

#include <fmt/format.h>

#include <cmath>

#include "formats/drill_json.hpp"
#include "formats/words/numbers.hpp"

namespace glidewright {
namespace {

std::string k_of_n(const Hits& hits) {
  return fmt::format("{} of {}", hits.right, hits.of);
}

std::string bias_words(const DrillScore& score) {
  const int misses = score.said_too_low + score.said_too_high;
  if (misses == 0) return {};
  if (!score.leans())
    return fmt::format("{} too low and {} too high: no leaning to see yet.", score.said_too_low,
                       score.said_too_high);
  const bool low = score.said_too_low > score.said_too_high;
  return fmt::format("You see it {} than it is: {} of {} misses.", low ? "lower" : "higher",
                     low ? score.said_too_low : score.said_too_high, misses);
}

std::string mark_words(const DrillScore& score) {
  if (score.marks == 0 || !score.median_mark_ft) return {};
  std::string words = fmt::format("Marks for 20 s ahead: {} ft off in the median of {}",
                                  feet(*score.median_mark_ft), score.marks);
  if (score.mean_ahead_ft && score.mean_ahead_sd_ft) {
    constexpr double k_two_sided_90 = 1.645;
    const double half_ft = k_two_sided_90 * *score.mean_ahead_sd_ft;
    words += std::abs(*score.mean_ahead_ft) > half_ft
                 ? fmt::format(", {} ft too {} on average", feet(std::abs(*score.mean_ahead_ft)),
                               *score.mean_ahead_ft > 0.0 ? "far ahead" : "near")
                 : ", neither too far nor too near";
  }
  return words + ".";
}

}  // namespace

std::string drill_leg_words(DrillLeg leg) {
  switch (leg) {
    case DrillLeg::base_turn:
      return "in the base turn";
    case DrillLeg::base:
      return "on base";
    case DrillLeg::final_turn:
      return "in the final turn";
    case DrillLeg::final_leg:
      break;
  }
  return "on final";
}

std::string drill_energy_word(Energy energy) {
  return energy == Energy::low ? "Low" : energy == Energy::high ? "High" : "On";
}

std::string drill_setting_words(const Drill& drill) {
  const PlanRequest& plan = drill.setting.plan;
  return fmt::format("{}, runway {}, {}, {}", drill.runway.airfield, drill.runway.designator,
                     wind_words(plan.conditions.wind), plan.airplane.name);
}

std::string drill_picture_words(const Situation& situation) {
  const Moment& now = situation.now;
  const std::string flap =
      now.flap_deg < 0.5 ? std::string("flaps up") : fmt::format("flap {:.0f}°", std::round(now.flap_deg));
  return fmt::format("Idle, {:.0f} kt, {}. Frozen {}.", now.calibrated_airspeed_kt, flap,
                     drill_leg_words(situation.leg));
}

std::string drill_verdict_words(const Situation& situation) {
  std::string words = fmt::format("{}: left alone it lands at {} ft", drill_energy_word(situation.energy),
                                  signed_feet(situation.touchdown_ft));
  if (situation.energy == Energy::on) return words + ", in the box.";
  return words + fmt::format(", {} ft {} the box.", feet(std::abs(situation.beyond_box_ft)),
                             situation.energy == Energy::high ? "beyond" : "short of");
}

std::string drill_remedy_words(const Situation& situation, const DrillSetting& setting) {
  const Room& room = situation.room;
  const Box box = setting.plan.box;
  switch (situation.remedy) {
    case Remedy::nothing:
      return "Nothing: flaps as planned, and no slip.";
    case Remedy::flaps_held:
      return fmt::format("The flaps held back: without any more it lands at {} ft at most.",
                         signed_feet(situation.touchdown_at_most_ft));
    case Remedy::shorter_way:
      return fmt::format("A shorter way in and the flaps held back; from here that serves down to {} ft.",
                         feet(room.lowest_ft));
    case Remedy::longer_way:
      return fmt::format("A longer way alone, up to {} ft here.", feet(room.by_path_ft));
    case Remedy::flaps:
      return "Flaps sooner; no slip is needed.";
    case Remedy::slip:
      return "Flaps sooner and a slip on final; less may not do.";
    case Remedy::none:
      break;
  }
  if (situation.energy == Energy::low)
    return fmt::format(
        "Nothing any more: with no more flap it lands at {} ft, and no shorter way is left. Go around.",
        signed_feet(situation.touchdown_at_most_ft));
  return fmt::format(
      "Nothing any more: with all flaps now and a slip on final it still lands at {} ft, {} ft "
      "beyond the box. Go around.",
      signed_feet(situation.touchdown_at_most_ft), feet(situation.touchdown_at_most_ft - box.high_ft));
}

std::vector<std::string> drill_score_words(const DrillScore& score) {
  std::vector<std::string> words;
  if (score.all.of == 0) return words;
  std::string right = k_of_n(score.all) + " right";
  const Hits& sure = score.by_sureness[static_cast<std::size_t>(Sureness::sure)];
  const Hits& guess = score.by_sureness[static_cast<std::size_t>(Sureness::guess)];
  if (sure.of > 0) right += "; when sure, " + k_of_n(sure);
  if (guess.of > 0) right += "; when guessing, " + k_of_n(guess);
  words.push_back(right + ".");
  for (const std::string& sentence : {bias_words(score), mark_words(score)})
    if (!sentence.empty()) words.push_back(sentence);
  return words;
}

}  // namespace glidewright

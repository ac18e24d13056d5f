#pragma once
// What a drill asks and tells, in words that terminal and page share.

#include <string>
#include <vector>

#include "engine/drill/score.hpp"
#include "engine/drill/situation.hpp"

namespace glidewright {

struct Drill;

/// "in the base turn"
std::string drill_leg_words(DrillLeg leg);
/// "Low", "On" or "High"
std::string drill_energy_word(Energy energy);
/// "Harrow Fen, runway 24, 250° 11 kt, demo trainer".
std::string drill_setting_words(const Drill& drill);
/// "Idle, 65 kt, flap 10°. Frozen on base."
std::string drill_picture_words(const Situation& situation);
/// "High: left alone it lands at +410 ft, 210 ft beyond the box."
std::string drill_verdict_words(const Situation& situation);
/// What would still have brought it into the box, or that nothing would.
std::string drill_remedy_words(const Situation& situation, const DrillSetting& setting);
/// "13 of 20 right; when sure, 8 of 9." and what can be said of a bias, a sentence each.
std::vector<std::string> drill_score_words(const DrillScore& score);

}  // namespace glidewright

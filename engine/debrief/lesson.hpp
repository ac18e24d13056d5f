#pragma once

#include <string>

#include "engine/debrief/causes.hpp"

namespace glidewright {

/// An effect or a lean that is worth a word.
inline constexpr double k_worth_a_word_ft = 80.0;

/// What a pilot does about a cause that made the landing long (or short); empty for what is not in the
/// pilot's hands, wind and airplane.
std::string remedy_for(const std::string& cause, bool was_long);

/// One line: the earliest cheap fix among the decided causes that a pilot decides, the cue for the same wind,
/// and what would show that it worked. Empty when no cause is decided.
std::string lesson_of(const CausesRequest& request, const Causes& causes);

}  // namespace glidewright

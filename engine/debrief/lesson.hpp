#pragma once

#include <string>

#include "engine/debrief/causes.hpp"

namespace glidewright {

/// One line: the earliest cheap fix among the decided causes that a pilot decides, the cue for the same wind,
/// and what would show that it worked. Empty when no cause is decided.
std::string lesson_of(const CausesRequest& request, const Causes& causes);

}  // namespace glidewright

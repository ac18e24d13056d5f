#pragma once
// A receiver that repeats its last position while time goes on and the airplane does too.

#include <cstddef>
#include <vector>

#include "engine/track/log.hpp"

namespace glidewright {

/// Fixes first to last repeat the latitude, longitude and altitude of the fix before first.
struct FrozenFixes {
  std::size_t first = 0;
  std::size_t last = 0;
};

/// Repeats that the airplane cannot have flown: it came in steadily (three stretches of at least a second
/// each), and even braked as hard as wheels can it would have gone on for more than the noise of a position.
///
/// fixes: times strictly increasing. Whoever stands still, brakes to a stop, or is slower than about 35 kt
/// has none; neither has a log that begins with repeats, since nothing before them shows how fast it was. The
/// fix before first is the receiver's last measurement. In order; O(n).
std::vector<FrozenFixes> frozen_fixes(const std::vector<Fix>& fixes);

}  // namespace glidewright

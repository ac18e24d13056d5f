#pragma once
// What several attempts of one log have in common: what changed from one to the next, and one thing to
// practise.

#include <optional>
#include <string>
#include <vector>

#include "engine/debrief/debrief.hpp"

namespace glidewright {

/// None where fewer than two attempts have causes.
///
/// The errors of one cause are taken as the same in all attempts (one wind, one airplane), so that a mean is
/// no surer than a single one: a cause leans when its mean is further from zero than the mean half width of
/// its intervals.
std::optional<Session> session_of(const std::vector<AttemptDebrief>& attempts);

}  // namespace glidewright

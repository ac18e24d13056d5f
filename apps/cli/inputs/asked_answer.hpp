#pragma once
// What the drills on a terminal share: which pictures, and the question under each.

#include <cstdint>
#include <optional>

#include "apps/cli/inputs/typed_answer.hpp"
#include "apps/cli/words/page.hpp"

namespace glidewright {

/// Another one each time where nobody asks for a certain one; small enough to be typed again.
std::uint64_t drill_seed(const std::optional<double>& asked);

/// Asks until what is typed is understood; none where nobody answers any more. `when` is "in 20 s" or "20 s
/// later".
std::optional<TypedAnswer> ask_for_answer(const char* when, const Page& page);

}  // namespace glidewright

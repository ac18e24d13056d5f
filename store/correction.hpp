#pragma once
// What a person saw of an attempt, put in the place of what the log shows.

#include "formats/result.hpp"
#include "store/values.hpp"

namespace glidewright {

/// The next version of an assessment, by what is said of `attempt` now; what was said before stays where
/// nothing else is said. A sentence where the two cannot both be true.
Result<Assessment> corrected(long long attempt, const Assessment& now, const Said& said,
                             const std::string& reason, const Stamp& stamp);

}  // namespace glidewright

#pragma once
// An attempt in words, the same for terminal, report and paper.

#include <string>
#include <vector>

#include "engine/track/attempts.hpp"

namespace glidewright {

/// "14:03:21 UTC, left-hand traffic, power-off, landed"
std::string attempt_words(const Attempt& attempt);

struct NamedKeyPoint {
  std::string name;
  const KeyPoint* point;  ///< of the attempt
};
/// Those that it has, in flown order.
std::vector<NamedKeyPoint> named_key_points(const Attempt& attempt);

}  // namespace glidewright

#pragma once

#include <cmath>
#include <numbers>

namespace glidewright {

/// Probability that a normally distributed number lies below `z` standard deviations.
inline double normal_below(double z) {
  return 0.5 * std::erfc(-z / std::numbers::sqrt2);
}

}  // namespace glidewright

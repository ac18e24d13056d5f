#include "apps/cli/inputs/clock.hpp"

#include <chrono>
#include <cmath>

namespace glidewright {

double now_unix_s() {
  const auto now = std::chrono::system_clock::now().time_since_epoch();
  return std::round(1000.0 * std::chrono::duration<double>(now).count()) / 1000.0;
}

}  // namespace glidewright

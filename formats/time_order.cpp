#include "formats/time_order.hpp"

#include <limits>

namespace glidewright {
namespace {

std::vector<std::size_t> increasing_front_to_back(const std::vector<double>& times) {
  std::vector<std::size_t> kept;
  for (std::size_t i = 0; i < times.size(); ++i) {
    if (kept.empty() || times[i] > times[kept.back()]) kept.push_back(i);
  }
  return kept;
}

}  // namespace

std::vector<std::size_t> longest_increasing(const std::vector<double>& times) {
  constexpr auto k_none = std::numeric_limits<std::size_t>::max();
  std::vector<std::size_t> ends;  // ends[k]: the element with the smallest time that ends a run of k + 1
  std::vector<std::size_t> before(times.size(), k_none);
  for (std::size_t i = 0; i < times.size(); ++i) {
    const auto place =
        std::lower_bound(ends.begin(), ends.end(), times[i],
                         [&](std::size_t element, double value) { return times[element] < value; });
    if (place != ends.begin()) before[i] = *(place - 1);
    if (place == ends.end()) {
      ends.push_back(i);
    } else {
      *place = i;
    }
  }
  auto kept = increasing_front_to_back(times);
  if (kept.size() == ends.size()) return kept;
  kept.clear();
  for (auto element = ends.empty() ? k_none : ends.back(); element != k_none; element = before[element]) {
    kept.push_back(element);
  }
  std::reverse(kept.begin(), kept.end());
  return kept;
}

}  // namespace glidewright

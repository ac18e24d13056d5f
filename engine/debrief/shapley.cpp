#include "engine/debrief/shapley.hpp"

#include <bit>
#include <cassert>
#include <numeric>

namespace glidewright {

std::vector<Coalition> all_sets(int count) {
  assert(count >= 1 && count <= 11);
  std::vector<Coalition> sets(std::size_t{1} << count);
  std::iota(sets.begin(), sets.end(), Coalition{0});
  return sets;
}

std::vector<double> shapley_shares(int count, const std::vector<double>& values) {
  const Coalition all = (Coalition{1} << count) - 1;
  assert(count >= 1 && count <= 11 && values.size() == std::size_t{all} + 1);
  // Of the orders, s! (n-1-s)! / n! have exactly the set S of size s before cause i.
  std::vector<double> weight_by_size(static_cast<std::size_t>(count));
  for (int s = 0; s < count; ++s) {
    double weight = 1.0 / count;
    for (int k = 1; k <= s; ++k) weight *= static_cast<double>(k) / (count - k);
    weight_by_size[static_cast<std::size_t>(s)] = weight;
  }
  std::vector<double> shares(static_cast<std::size_t>(count), 0.0);
  for (int i = 0; i < count; ++i) {
    const Coalition mine = Coalition{1} << i;
    for (Coalition set = 0; set <= all; ++set) {
      if (set & mine) continue;
      const auto size = static_cast<std::size_t>(std::popcount(set));
      shares[static_cast<std::size_t>(i)] += weight_by_size[size] * (values[set | mine] - values[set]);
    }
  }
  return shares;
}

std::vector<Coalition> first_and_last_sets(int count) {
  assert(count >= 1 && count <= 11);
  const Coalition all = (Coalition{1} << count) - 1;
  std::vector<Coalition> sets = {0};
  for (int i = 0; i < count; ++i) sets.push_back(Coalition{1} << i);
  for (int i = 0; i < count; ++i) sets.push_back(all & ~(Coalition{1} << i));
  sets.push_back(all);
  return sets;
}

std::vector<double> first_and_last_shares(int count, const std::vector<double>& values) {
  const auto causes = static_cast<std::size_t>(count);
  assert(values.size() == 2 * causes + 2);
  std::vector<double> shares;
  for (std::size_t i = 0; i < causes; ++i) {
    const double first = values[1 + i] - values.front(), last = values.back() - values[1 + causes + i];
    shares.push_back(0.5 * (first + last));
  }
  return shares;
}

}  // namespace glidewright

#include "engine/debrief/shapley.hpp"

#include <bit>
#include <cassert>

namespace glidewright {

std::vector<double> shapley_shares(int count, const std::function<double(Coalition)>& value) {
  assert(count >= 1 && count <= 11);
  const Coalition all = (Coalition{1} << count) - 1;
  std::vector<double> values(all + 1);
  for (Coalition set = 0; set <= all; ++set) values[set] = value(set);

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

std::vector<double> first_and_last_shares(int count, const std::function<double(Coalition)>& value) {
  assert(count >= 1 && count <= 11);
  const Coalition all = (Coalition{1} << count) - 1;
  const double none = value(0), everything = value(all);
  std::vector<double> shares;
  for (int i = 0; i < count; ++i) {
    const Coalition mine = Coalition{1} << i;
    shares.push_back(0.5 * ((value(mine) - none) + (everything - value(all & ~mine))));
  }
  return shares;
}

}  // namespace glidewright

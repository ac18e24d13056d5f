#pragma once
// Sharing a sum among its causes so that nothing depends on the order in which they are told.

#include <cstdint>
#include <functional>
#include <vector>

namespace glidewright {

/// Set of causes that are as flown; the others are as planned. Bit i is cause i.
using Coalition = std::uint32_t;

/// Average of each cause's effect over all orders in which the causes can be switched from planned to flown.
/// value: feet for a coalition; asked once for each of the 2^count. The shares sum to value(all) -
/// value(none). Source: L. S. Shapley, A Value for n-Person Games (1953). count: 1 to 11.
std::vector<double> shapley_shares(int count, const std::function<double(Coalition)>& value);

/// Mean of each cause's effect switched first and switched last: cheap, near the average over all orders
/// where causes interact in pairs only. The shares need not sum to value(all) - value(none).
std::vector<double> first_and_last_shares(int count, const std::function<double(Coalition)>& value);

}  // namespace glidewright

#pragma once
// Sharing a sum among its causes so that nothing depends on the order in which they are told.

#include <cstdint>
#include <vector>

namespace glidewright {

/// Set of causes that are as flown; the others are as planned. Bit i is cause i.
using Coalition = std::uint32_t;

/// Every coalition of `count` causes, each at the place of its number: none first, all last.
std::vector<Coalition> all_sets(int count);

/// Average of each cause's effect over all orders in which the causes can be switched from planned to flown.
/// values: feet for each of all_sets(count). The shares sum to the last less the first.
/// Source: L. S. Shapley, A Value for n-Person Games (1953). count: 1 to 11.
std::vector<double> shapley_shares(int count, const std::vector<double>& values);

/// The coalitions that first_and_last_shares looks at: none first, all last.
std::vector<Coalition> first_and_last_sets(int count);

/// Mean of each cause's effect switched first and switched last: cheap, near the average over all orders
/// where causes interact in pairs only. values: feet for each of first_and_last_sets(count). The shares need
/// not sum to the last less the first.
std::vector<double> first_and_last_shares(int count, const std::vector<double>& values);

}  // namespace glidewright

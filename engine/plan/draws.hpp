#pragma once
// Random numbers by counting: the same flight gets the same luck whoever flies it, in whatever order.

#include <cstdint>

#include "engine/technique/approach.hpp"

namespace glidewright {

/// Standard normal number of (seed, flight, channel).
/// A 64-bit mix of the three (Steele, Lea and Flood, OOPSLA 2014, finaliser of SplitMix) feeds Box and
/// Muller's transform (Annals of Mathematical Statistics 29, 1958).
double standard_normal(std::uint64_t seed, std::uint64_t flight, std::uint64_t channel);

/// One pilot on one day: every scatter drawn. `gust_kt` above the mean widens the wind by a third of itself.
Deviation draw_deviation(const Scatter& scatter, double gust_kt, std::uint64_t seed, std::uint64_t flight);

}  // namespace glidewright

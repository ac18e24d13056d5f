#pragma once
// Random numbers by counting: the same flight gets the same luck whoever flies it, in whatever order.

#include <cstdint>

#include "engine/technique/approach.hpp"

namespace glidewright {

/// Standard normal number of (seed, flight, channel).
/// Philox and Box and Muller's transform (engine/lanes/philox.hpp): words 2i and 2i + 1 of the flight give
/// the channels 2i and 2i + 1. The batch draws the same numbers in float.
double standard_normal(std::uint64_t seed, std::uint64_t flight, std::uint64_t channel);

/// What gusts of so much above the mean do to the wind of a whole flight, sd: nothing where they are flown as
/// turbulence.
double gust_sd_kt(const Scatter& scatter, double gust_kt);
/// Head and cross wind of one flight, each, sd: the day's error, and the gust where it is not flown.
double wind_sd_kt(const Scatter& scatter, double gust_kt);

/// One pilot on one day: every scatter drawn.
Deviation draw_deviation(const Scatter& scatter, double gust_kt, std::uint64_t seed, std::uint64_t flight);

}  // namespace glidewright

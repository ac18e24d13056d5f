#include "engine/batch/draws.hpp"

#include <cmath>

#include "engine/batch/luck.hpp"

namespace glidewright {

double standard_normal(std::uint64_t seed, std::uint64_t flight, std::uint64_t channel) {
  const auto four = words_of_flight(seed, flight, static_cast<std::uint32_t>(channel / 4));
  const std::uint64_t pair = channel % 4 / 2;
  const auto two = normals_of<double>(uniform_of(four.word[2 * pair]), uniform_of(four.word[2 * pair + 1]));
  return channel % 2 == 0 ? two.first : two.second;
}

double gust_sd_kt(const Scatter& scatter, double gust_kt) {
  return scatter.turbulence > 0.0 ? 0.0 : gust_kt / 3.0;
}

double wind_sd_kt(const Scatter& scatter, double gust_kt) {
  return std::hypot(scatter.wind_kt, gust_sd_kt(scatter, gust_kt));
}

Deviation draw_deviation(const Scatter& scatter, double gust_kt, std::uint64_t seed, std::uint64_t flight) {
  double normal[k_draws];
  for (std::uint64_t channel = 0; channel < k_draws; ++channel) {
    normal[channel] = standard_normal(seed, flight, channel);
  }
  return deviation_of(scatter, wind_sd_kt(scatter, gust_kt), normal);
}

}  // namespace glidewright

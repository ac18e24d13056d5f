#include "engine/plan/draws.hpp"

#include <cmath>
#include <numbers>

namespace glidewright {
namespace {

std::uint64_t mixed(std::uint64_t x) {
  x ^= x >> 30;
  x *= 0xbf58476d1ce4e5b9ULL;
  x ^= x >> 27;
  x *= 0x94d049bb133111ebULL;
  return x ^ (x >> 31);
}

/// In (0, 1).
double uniform(std::uint64_t seed, std::uint64_t flight, std::uint64_t channel) {
  constexpr std::uint64_t golden = 0x9e3779b97f4a7c15ULL;
  const std::uint64_t bits = mixed(mixed(mixed(seed + golden) + flight * golden) + (channel + 1) * golden);
  return (static_cast<double>(bits >> 11) + 0.5) * 0x1.0p-53;
}

}  // namespace

double standard_normal(std::uint64_t seed, std::uint64_t flight, std::uint64_t channel) {
  const double radius = std::sqrt(-2.0 * std::log(uniform(seed, flight, 2 * channel)));
  return radius * std::cos(2.0 * std::numbers::pi * uniform(seed, flight, 2 * channel + 1));
}

Deviation draw_deviation(const Scatter& scatter, double gust_kt, std::uint64_t seed, std::uint64_t flight) {
  std::uint64_t channel = 0;
  const auto draw = [&](double sd) { return sd * standard_normal(seed, flight, channel++); };
  const double wind_sd = std::hypot(scatter.wind_kt, gust_kt / 3.0);
  Deviation deviation;
  deviation.cue_s = draw(scatter.cue_s);
  deviation.speed_kt = draw(scatter.speed_kt);
  deviation.bank_deg = draw(scatter.bank_deg);
  deviation.flap_s = draw(scatter.flap_s);
  deviation.spacing_ft = draw(scatter.spacing_ft);
  deviation.height_ft = draw(scatter.height_ft);
  deviation.headwind_kt = draw(wind_sd);
  deviation.crosswind_kt = draw(wind_sd);
  deviation.glide_relative = draw(scatter.glide_relative);
  deviation.eye_relative = draw(scatter.eye_relative);
  deviation.touchdown_speed_kt = draw(scatter.touchdown_speed_kt);
  return deviation;
}

}  // namespace glidewright

#include "engine/debrief/touchdown_model.hpp"

#include <cmath>

#include "engine/debrief/touchdown_priors.hpp"

namespace glidewright::touchdown {

const std::vector<FlareShape>& flare_shapes() {
  static const std::vector<FlareShape> shapes = [] {
    const auto hold_off = choices(k_hold_off_s, k_hold_off_belief);
    std::vector<FlareShape> all;
    for (std::size_t d = 0; d < k_hold_off_s.size(); ++d)
      for (const double flare_s : k_flare_s)
        all.push_back({k_hold_off_s[d], flare_s,
                       hold_off.log_probability[d] - std::log(static_cast<double>(k_flare_s.size()))});
    return all;
  }();
  return shapes;
}

std::array<SpeedBelief, 2> touchdown_speed_belief(const TouchdownPrior& prior) {
  const double true_over_calibrated = 1.0 / std::sqrt(prior.density_ratio);
  const double stall_kt = prior.stall_speed_landing_kcas * true_over_calibrated;
  const double stall_sd_kt = prior.stall_speed_sd_kt * true_over_calibrated;
  const double wind_sd_kt = k_wind_at_wheels_over_10m * prior.headwind_sd_kt;
  std::array<SpeedBelief, 2> belief;
  for (std::size_t k = 0; k < belief.size(); ++k) {
    const Normal ratio = k_touchdown_over_stall[k];
    const double speed_kt = ratio.mean * stall_kt - k_wind_at_wheels_over_10m * prior.headwind_kt;
    const double sd_kt = std::hypot(std::hypot(ratio.sd * stall_kt, ratio.mean * stall_sd_kt), wind_sd_kt);
    belief[k] = {k_touchdown_over_stall_weight[k], speed_kt * k_fps_per_knot, sd_kt * k_fps_per_knot};
  }
  return belief;
}

TouchdownPrior with_seen_headwind(TouchdownPrior prior, const LandingEvidence& evidence) {
  if (!evidence.seen_headwind) return prior;
  const auto [seen_kt, seen_sd_kt] = *evidence.seen_headwind;
  const double told = 1.0 / (prior.headwind_sd_kt * prior.headwind_sd_kt),
               seen = 1.0 / (seen_sd_kt * seen_sd_kt);
  prior.headwind_kt = (told * prior.headwind_kt + seen * seen_kt) / (told + seen);
  prior.headwind_sd_kt = 1.0 / std::sqrt(told + seen);
  return prior;
}

}  // namespace glidewright::touchdown

#include "engine/reach/smooth_wind.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <numbers>

namespace glidewright::reach {

SmoothWind::SmoothWind(const WindField& field) {
  constexpr int levels = 65;
  Eigen::Matrix<double, levels, k_terms> powers;
  Eigen::Matrix<double, levels, 2> wind;
  for (int i = 0; i < levels; ++i) {
    // Denser at both ends, as the zeros of a Chebyshev polynomial are: no swinging there.
    const double x = -std::cos(std::numbers::pi * (i + 0.5) / levels);
    const LocalWind here = field.at(0.5 * (k_low_ft + k_high_ft) + 0.5 * (k_high_ft - k_low_ft) * x);
    double power = 1.0;
    for (int k = 0; k < k_terms; ++k, power *= x) powers(i, k) = power;
    wind(i, 0) = here.along_fps;
    wind(i, 1) = here.cross_fps;
  }
  const Eigen::Matrix<double, k_terms, 2> terms = powers.colPivHouseholderQr().solve(wind);
  constexpr double scaled_per_ft = 2.0 / (k_high_ft - k_low_ft);
  for (int k = 0; k < k_terms; ++k) {
    const auto at = static_cast<unsigned>(k);
    along_[at] = static_cast<float>(terms(k, 0));
    cross_[at] = static_cast<float>(terms(k, 1));
    if (k == 0) continue;
    along_slope_[at - 1] = static_cast<float>(k * terms(k, 0) * scaled_per_ft);
    cross_slope_[at - 1] = static_cast<float>(k * terms(k, 1) * scaled_per_ft);
  }
  largest_error_fps_ = (powers * terms - wind).cwiseAbs().maxCoeff();
}

WindTerms SmoothWind::terms(bool along_ahead) const {
  WindTerms terms{};
  const auto copy = [](const auto& from, float* to) { std::copy(from.begin(), from.end(), to); };
  copy(along_ahead ? along_ : cross_, terms.ahead_fps);
  copy(along_ahead ? cross_ : along_, terms.aside_fps);
  copy(along_ahead ? along_slope_ : cross_slope_, terms.ahead_per_s);
  copy(along_ahead ? cross_slope_ : along_slope_, terms.aside_per_s);
  terms.middle_ft = static_cast<float>(0.5 * (k_low_ft + k_high_ft));
  terms.scaled_per_ft = static_cast<float>(2.0 / (k_high_ft - k_low_ft));
  return terms;
}

}  // namespace glidewright::reach

#pragma once
// The wind as polynomials of height, so that a sweep over a million cells needs no table and no powers.

#include <array>

#include "engine/glide/wind_field.hpp"
#include "engine/reach/sweep_code.hpp"

namespace glidewright::reach {

/// Wind in the pattern frame between 100 and 1,700 ft, by least squares; held at both ends. Error: largest
/// where the profile has a corner (a measured wind aloft), some tenths of a knot; see `largest_error_fps`.
class SmoothWind {
 public:
  static constexpr int k_terms = WindTerms::k_terms;
  static constexpr double k_low_ft = 100.0, k_high_ft = 1700.0;

  explicit SmoothWind(const WindField& field);

  /// For lines that lie across the landing direction or along it.
  WindTerms terms(bool along_ahead) const;

  double largest_error_fps() const { return largest_error_fps_; }

 private:
  using Terms = std::array<float, k_terms>;
  using SlopeTerms = std::array<float, WindTerms::k_slope_terms>;
  Terms along_{}, cross_{};
  SlopeTerms along_slope_{}, cross_slope_{};
  double largest_error_fps_ = 0.0;
};

}  // namespace glidewright::reach

#pragma once
// Feet of runway as a share of a drawing's width: one scale for ruler and ledger.

#include <algorithm>
#include <cmath>
#include <vector>

namespace glidewright::report {

/// −500 to +1,500 ft, wider by whole 500 ft where something lies outside.
class FeetScale {
 public:
  void include(double along_ft) {
    if (!std::isfinite(along_ft)) return;
    low_ft_ = std::min(low_ft_, 500.0 * std::floor(along_ft / 500.0));
    high_ft_ = std::max(high_ft_, 500.0 * std::ceil(along_ft / 500.0));
  }
  double low_ft() const { return low_ft_; }
  double high_ft() const { return high_ft_; }
  /// Percent of the width.
  double percent(double along_ft) const { return 100.0 * (along_ft - low_ft_) / (high_ft_ - low_ft_); }
  double percent_of(double length_ft) const { return 100.0 * length_ft / (high_ft_ - low_ft_); }
  /// Every 500 ft, or fewer where they would crowd.
  std::vector<double> marks_ft() const {
    const double step = high_ft_ - low_ft_ > 3000.0 ? 1000.0 : 500.0;
    std::vector<double> marks;
    for (double mark = step * std::ceil(low_ft_ / step); mark <= high_ft_; mark += step)
      marks.push_back(mark);
    return marks;
  }

 private:
  double low_ft_ = -500.0;
  double high_ft_ = 1500.0;
};

}  // namespace glidewright::report

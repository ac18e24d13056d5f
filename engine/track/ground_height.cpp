#include "engine/track/ground_height.hpp"

#include <Eigen/Cholesky>
#include <Eigen/Core>
#include <algorithm>
#include <cmath>
#include <cstddef>

namespace glidewright {
namespace {

constexpr double k_rolling_fps =
    30.0 * k_fps_per_knot;  // slower than any light airplane flies in usual winds
constexpr double k_stretch_s = 20.0;
constexpr double k_most_stretches = 60.0;
constexpr double k_survey_sd_ft = 1.5;  // elevation, antenna height and how the airplane sits on its wheels

bool rolls_on_runway(const TrackState& s, const RunwayFrame& frame) {
  const double loose = 2.0 * frame.runway().position_sd.value + 30.0;
  return std::hypot(s.along_fps, s.cross_fps) < k_rolling_fps && std::abs(s.climb_fps) < 3.0 &&
         s.height_sd_ft < k_unknown_height_sd_ft &&
         std::abs(s.cross_ft) < frame.runway().width.value / 2.0 + loose &&
         s.along_ft > frame.threshold_along_ft() - loose && s.along_ft < frame.runway_end_along_ft() + loose;
}

/// Step of the grid on which the shift is worked out; its wander is far slower.
constexpr double k_grid_s = 10.0;

struct Shift {
  double mean_ft = 0.0;
  double variance_ft2 = 0.0;
};

/// Most probable error of the receiver at any time, given what the ground runs showed.
class ShiftCourse {
 public:
  ShiftCourse(const std::vector<GroundShift>& shifts, const DeviceNoise& noise)
      : shifts_(shifts), noise_(noise) {
    const auto n = static_cast<Eigen::Index>(shifts.size());
    Eigen::MatrixXd covariance(n, n);
    Eigen::VectorXd seen(n);
    for (Eigen::Index i = 0; i < n; ++i) {
      const GroundShift& a = shifts[static_cast<std::size_t>(i)];
      seen(i) = a.shift_ft;
      for (Eigen::Index j = 0; j < n; ++j) {
        covariance(i, j) = covariance_at(a.time_unix_s - shifts[static_cast<std::size_t>(j)].time_unix_s);
      }
      covariance(i, i) += a.variance_ft2;
    }
    factor_.compute(covariance);
    weights_ = factor_.solve(seen);
  }

  Shift at(double time_unix_s) const {
    Eigen::VectorXd k(weights_.size());
    for (Eigen::Index i = 0; i < k.size(); ++i) {
      k(i) = covariance_at(time_unix_s - shifts_[static_cast<std::size_t>(i)].time_unix_s);
    }
    return {k.dot(weights_), std::max(covariance_at(0.0) - k.dot(factor_.solve(k)), 0.0)};
  }

 private:
  double covariance_at(double lag_s) const {
    return k_height_bias_sd_ft * k_height_bias_sd_ft +
           noise_.height_wander_ft * noise_.height_wander_ft *
               std::exp(-std::abs(lag_s) / k_height_wander_time_s);
  }
  const std::vector<GroundShift>& shifts_;
  const DeviceNoise& noise_;
  Eigen::LDLT<Eigen::MatrixXd> factor_;
  Eigen::VectorXd weights_;
};

void summarise(SmoothTrack& track, const std::vector<GroundShift>& shifts, const ShiftCourse& course) {
  double sum = 0.0;
  for (const GroundShift& s : shifts) sum += s.shift_ft;
  track.height_shift_ft = sum / static_cast<double>(shifts.size());
  track.height_shift_sd_ft = std::sqrt(course.at(shifts.back().time_unix_s).variance_ft2);
  track.height_zeroed_on_ground = true;
}

}  // namespace

std::vector<GroundShift> ground_shifts(const std::vector<TrackState>& states, const RunwayFrame& frame,
                                       const DeviceNoise& noise) {
  const double whole_s = states.empty() ? 0.0 : states.back().time_unix_s - states.front().time_unix_s;
  const double stretch_s = std::max(k_stretch_s, whole_s / k_most_stretches);
  std::vector<GroundShift> shifts;
  std::size_t i = 0;
  while (i < states.size()) {
    if (!rolls_on_runway(states[i], frame)) {
      ++i;
      continue;
    }
    const std::size_t first = i;
    double sum = 0.0;
    for (; i < states.size() && rolls_on_runway(states[i], frame) &&
           std::abs(states[i].time_unix_s - states[first].time_unix_s) < stretch_s;
         ++i) {
      const double runway_height_ft = states[i].along_ft * frame.runway().slope_percent / 100.0;
      sum += runway_height_ft - states[i].height_ft;
    }
    const auto count = static_cast<double>(i - first);
    const double lasted_s = states[i - 1].time_unix_s - states[first].time_unix_s;
    if (lasted_s < 2.0) continue;  // one stray fix is no ground run
    shifts.push_back(
        {states[first].time_unix_s + lasted_s / 2.0, sum / count,
         noise.height_white_ft * noise.height_white_ft / count + k_survey_sd_ft * k_survey_sd_ft});
  }
  return shifts;
}

void zero_heights(SmoothTrack& track, const std::vector<GroundShift>& shifts, const DeviceNoise& noise) {
  const double unknown2 =
      k_height_bias_sd_ft * k_height_bias_sd_ft + noise.height_wander_ft * noise.height_wander_ft;
  if (shifts.empty()) {
    track.height_shift_sd_ft = std::sqrt(unknown2);
    for (TrackState& s : track.states) s.height_sd_ft = std::hypot(s.height_sd_ft, std::sqrt(unknown2));
    return;
  }
  const ShiftCourse course(shifts, noise);
  summarise(track, shifts, course);
  double from_s = track.states.front().time_unix_s;
  Shift from = course.at(from_s), to = course.at(from_s + k_grid_s);
  for (TrackState& s : track.states) {
    if (s.time_unix_s > from_s + k_grid_s || s.time_unix_s < from_s) {
      const double steps = std::floor((s.time_unix_s - from_s) / k_grid_s);
      from_s += steps * k_grid_s;
      from = course.at(from_s);
      to = course.at(from_s + k_grid_s);
    }
    const double part = (s.time_unix_s - from_s) / k_grid_s;
    s.height_ft += from.mean_ft + part * (to.mean_ft - from.mean_ft);
    s.height_sd_ft = std::sqrt(s.height_sd_ft * s.height_sd_ft + from.variance_ft2 +
                               part * (to.variance_ft2 - from.variance_ft2));
  }
}

}  // namespace glidewright

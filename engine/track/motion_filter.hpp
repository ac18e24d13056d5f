#pragma once
// Fixed-interval smoothing of one or two axes that share their covariance. Internal to track/.

#include <array>
#include <cstddef>
#include <vector>

namespace glidewright {

/// How an airplane accelerates along one axis: exponentially correlated.
/// Source: R. A. Singer, IEEE Trans. AES-6 (1970).
struct MotionModel {
  double acceleration_sd_fps2 = 9.0;
  double correlation_time_s = 6.0;
  double wander_ft2_per_s = 0.0;  ///< growth of the device's slow position error
};

/// One measurement of `Axes` coordinates at once. A variance of 0 marks what was not measured.
template <std::size_t Axes>
struct MotionMeasurement {
  double time_s = 0.0;
  std::array<double, Axes> place{};
  std::array<double, Axes> speed{};
  double place_variance = 1.0;
  double speed_variance = 0.0;
};

/// Smoothed state; the variances hold for each axis.
template <std::size_t Axes>
struct MotionEstimate {
  std::array<double, Axes> place{};
  std::array<double, Axes> speed{};
  std::array<double, Axes> acceleration{};
  double place_variance = 0.0;
  double speed_variance = 0.0;
  double acceleration_variance = 0.0;
};

/// After a pause longer than this, or a step back in time, nothing is carried over: the next fix starts anew.
inline constexpr double k_independent_after_s = 60.0;

/// Kalman filter forwards, Rauch-Tung-Striebel backwards, twice: outliers found by the first pass
/// (innovations beyond the gate) weigh little in the second. One estimate per measurement.
template <std::size_t Axes>
std::vector<MotionEstimate<Axes>> smooth_motion(const std::vector<MotionMeasurement<Axes>>& measurements,
                                                const MotionModel& model);

extern template std::vector<MotionEstimate<1>> smooth_motion(const std::vector<MotionMeasurement<1>>&,
                                                             const MotionModel&);
extern template std::vector<MotionEstimate<2>> smooth_motion(const std::vector<MotionMeasurement<2>>&,
                                                             const MotionModel&);

}  // namespace glidewright

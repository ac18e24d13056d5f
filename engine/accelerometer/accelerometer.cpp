#include "engine/accelerometer/accelerometer.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

namespace glidewright {
namespace {

/// Lower edges of the bands, lowest first; the next one's is a band's upper edge.
constexpr std::array<double, k_felt_bands> k_edge_hz{1.0, 4.0, 12.0};
/// Longer without a reading is a gap.
constexpr double k_gap_s = 0.5;

}  // namespace

void VibrationMeter::add(double time_s, const std::array<double, 3>& acceleration_mps2) {
  const double elapsed_s = readings_ == 0 ? 0.0 : time_s - last_s_;
  if (readings_ == 0) log_.start_s = first_s_ = time_s;
  const bool begin_anew = readings_ == 0 || elapsed_s > k_gap_s;
  if (!begin_anew) reading_time_s_ += elapsed_s;
  const auto block = static_cast<std::size_t>(std::max(0.0, (time_s - first_s_) / k_felt_block_s));
  while (log_.blocks.size() < block) close_block();
  std::array<double, 3> faster = acceleration_mps2;
  for (std::size_t band = k_felt_bands; band-- > 0;) {
    const double share =
        begin_anew ? 1.0 : 1.0 - std::exp(-2.0 * std::numbers::pi * k_edge_hz[band] * elapsed_s);
    for (std::size_t axis = 0; axis < 3; ++axis) {
      double& slow = slow_[band][axis];
      slow += share * (acceleration_mps2[axis] - slow);
      const double in_band = faster[axis] - slow;
      squares_[band] += in_band * in_band;
      faster[axis] = slow;
    }
  }
  for (std::size_t axis = 0; axis < 3; ++axis) sum_[axis] += acceleration_mps2[axis];
  ++in_block_;
  ++readings_;
  last_s_ = time_s;
}

void VibrationMeter::close_block() {
  FeltBlock block;
  block.readings = in_block_;
  for (std::size_t i = 0; i < 3 && in_block_ > 0; ++i) {
    block.mean_mps2[i] = static_cast<float>(sum_[i] / in_block_);
    block.power[i] = static_cast<float>(squares_[i] / in_block_);
  }
  log_.blocks.push_back(block);
  sum_ = {};
  squares_ = {};
  in_block_ = 0;
}

AccelerometerLog VibrationMeter::finish() {
  if (in_block_ > 0) close_block();
  if (reading_time_s_ > 0.0) log_.rate_hz = static_cast<double>(readings_) / reading_time_s_;
  AccelerometerLog log = std::move(log_);
  *this = VibrationMeter();
  return log;
}

}  // namespace glidewright

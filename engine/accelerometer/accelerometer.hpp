#pragma once
// What a phone in the cockpit felt: its accelerometer's readings, gathered into tenths of a second.

#include <array>
#include <cstdint>
#include <string>
#include <vector>

namespace glidewright {

inline constexpr double k_felt_block_s = 0.1;
/// 1-4, 4-12 and above 12 Hz: gusts and struts, wheels, tyres and powerplant. A slow device has less of the
/// last.
inline constexpr std::size_t k_felt_bands = 3;

/// A tenth of a second. 28 bytes, so that four hours are 4 MB whatever the device's rate.
struct FeltBlock {
  std::array<float, 3> mean_mps2{};         ///< by the device's own axes, however it lies
  std::array<float, k_felt_bands> power{};  ///< (m/s2)^2, all axes together: the same however it lies
  std::uint32_t readings = 0;               ///< 0: a gap
};

struct AccelerometerLog {
  double start_s = 0.0;  ///< of the first block: Unix time by the device's clock, or what it counts
  bool counts_from_own_start = false;  ///< its times are no moments: only comparing can place them
  std::vector<FeltBlock> blocks;
  double rate_hz = 0.0;
  std::vector<std::string> notes;  ///< what was left out or taken for granted, in plain words

  double middle_s(std::size_t block) const {
    return start_s + k_felt_block_s * (static_cast<double>(block) + 0.5);
  }
  double end_s() const { return start_s + k_felt_block_s * static_cast<double>(blocks.size()); }
};

/// Readings in, blocks out; keeps no reading. Times must not fall; a gap begins the filters anew.
class VibrationMeter {
 public:
  void add(double time_s, const std::array<double, 3>& acceleration_mps2);
  /// The blocks so far; the meter is empty afterwards.
  AccelerometerLog finish();

 private:
  void close_block();

  AccelerometerLog log_;
  double first_s_ = 0.0, last_s_ = 0.0;
  std::size_t readings_ = 0;
  double reading_time_s_ = 0.0;                             ///< without the gaps
  std::array<std::array<double, 3>, k_felt_bands> slow_{};  ///< low-passed at each band's lower edge
  std::array<double, 3> sum_{};
  std::array<double, k_felt_bands> squares_{};
  std::uint32_t in_block_ = 0;
};

}  // namespace glidewright

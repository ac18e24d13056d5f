#include "engine/accelerometer/accelerometer.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

namespace glidewright {
namespace {

/// Ten seconds of one sine of the given size on top of gravity, along a direction.
AccelerometerLog sine(double hz, double size_mps2, const std::array<double, 3>& along,
                      double rate_hz = 200.0) {
  VibrationMeter meter;
  for (int i = 0; i < static_cast<int>(10.0 * rate_hz); ++i) {
    const double t = i / rate_hz, value = size_mps2 * std::sin(2.0 * std::numbers::pi * hz * t);
    meter.add(1.78e9 + t, {value * along[0], value * along[1], 9.81 + value * along[2]});
  }
  return meter.finish();
}

/// Mean power of a band over the second half, when the filters have settled.
double power(const AccelerometerLog& log, std::size_t band) {
  double sum = 0.0;
  for (std::size_t i = 50; i < 100; ++i) sum += static_cast<double>(log.blocks[i].power[band]) / 50.0;
  return sum;
}

TEST(VibrationMeter, MakesABlockEveryTenthOfASecond) {
  const auto log = sine(5.0, 1.0, {0.0, 0.0, 1.0});
  ASSERT_EQ(log.blocks.size(), 100U);
  EXPECT_NEAR(log.rate_hz, 200.0, 0.2);
  for (const FeltBlock& block : log.blocks) EXPECT_NEAR(block.readings, 20.0, 1.0);  // times round either way
  EXPECT_NEAR(static_cast<double>(log.blocks[70].mean_mps2[2]), 9.81, 0.7);
}

TEST(VibrationMeter, PutsAVibrationInItsBand) {
  const std::array<double, 3> up{0.0, 0.0, 1.0};
  for (std::size_t band = 0; band < 3; ++band) {
    const double hz = std::array{2.0, 7.0, 30.0}[band];
    const auto log = sine(hz, 1.0, up);
    for (std::size_t other = 0; other < 3; ++other) {
      if (other != band) {
        EXPECT_GT(power(log, band), 1.3 * power(log, other)) << hz << " Hz, band " << other;
      }
    }
  }
  // What a first-order filter x - s, s += (1 - a)(x - s), lets through: a |1 - z| / |1 - a z| at 60 of 400
  // Hz.
  const double a = std::exp(-2.0 * std::numbers::pi * 12.0 / 400.0),
               w = 2.0 * std::numbers::pi * 60.0 / 400.0;
  const double through = a * a * (2.0 - 2.0 * std::cos(w)) / (1.0 + a * a - 2.0 * a * std::cos(w));
  EXPECT_NEAR(power(sine(60.0, 1.0, up, 400.0), 2), 0.5 * through, 0.005);
}

TEST(VibrationMeter, DoesNotCareHowThePhoneLies) {
  const auto upright = sine(6.0, 1.0, {0.0, 0.0, 1.0}), aslant = sine(6.0, 1.0, {0.6, 0.48, 0.64});
  for (std::size_t band = 0; band < 3; ++band) EXPECT_NEAR(power(upright, band), power(aslant, band), 1e-5);
}

TEST(VibrationMeter, LeavesAGapEmptyAndBeginsAnewBehindIt) {
  VibrationMeter meter;
  for (int i = 0; i < 100; ++i) meter.add(0.01 * i, {0.0, 0.0, 9.81});
  for (int i = 0; i < 100; ++i) meter.add(3.0 + 0.01 * i, {9.81, 0.0, 0.0});  // it was turned meanwhile
  const auto log = meter.finish();
  ASSERT_EQ(log.blocks.size(), 40U);
  EXPECT_EQ(log.blocks[20].readings, 0U);
  // No jolt where none was felt.
  EXPECT_NEAR(static_cast<double>(log.blocks[30].power[0]), 0.0, 1e-6);
  EXPECT_NEAR(log.rate_hz, 100.0, 2.0);  // the gap is not counted
}

}  // namespace
}  // namespace glidewright

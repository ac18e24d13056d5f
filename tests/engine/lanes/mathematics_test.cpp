// The lanes' own functions against the library's in double. Expected errors are those stated in
// engine/lanes/mathematics.hpp.

#define GLIDEWRIGHT_INSTRUCTION_SET lanes_of_the_tests
#define GLIDEWRIGHT_VECTOR_BYTES 16
#define GLIDEWRIGHT_VECTORS 2
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <functional>

#include "engine/lanes/scalar.hpp"
#include "engine/lanes/vector.hpp"

namespace glidewright {
namespace {

using lanes_of_the_tests::k_lanes;
using lanes_of_the_tests::Lane;

/// Largest error over evenly spaced arguments, each rounded to a float first; every lane gets another one.
double largest_error(double low, double high, const std::function<Lane(const Lane&)>& own,
                     const std::function<double(double)>& library, bool relative = false) {
  constexpr int n = 200000;
  double largest = 0.0;
  for (int i = 0; i < n; i += k_lanes) {
    Lane x;
    for (int lane = 0; lane < k_lanes; ++lane) {
      set(x, lane, static_cast<float>(low + (high - low) * (i + lane) / (n - 1)));
    }
    const Lane y = own(x);
    for (int lane = 0; lane < k_lanes; ++lane) {
      const double expected = library(static_cast<double>(get(x, lane)));
      const double error = std::abs(static_cast<double>(get(y, lane)) - expected);
      largest = std::max(largest, relative ? error / std::abs(expected) : error);
    }
  }
  return largest;
}

TEST(LaneMathematics, SineAndCosine) {
  EXPECT_LT(
      largest_error(
          -7.0, 7.0, [](const Lane& x) { return sine_cosine(x).sine; }, [](double x) { return std::sin(x); }),
      6e-7);
  EXPECT_LT(largest_error(
                -7.0, 7.0, [](const Lane& x) { return sine_cosine(x).cosine; },
                [](double x) { return std::cos(x); }),
            6e-7);
}

TEST(LaneMathematics, SineAndCosineOfASmallAngle) {
  EXPECT_LT(largest_error(
                -1.0, 1.0, [](const Lane& x) { return sine_cosine_of_small(x).sine; },
                [](double x) { return std::sin(x); }),
            1.5e-7);
  EXPECT_LT(largest_error(
                -1.0, 1.0, [](const Lane& x) { return sine_cosine_of_small(x).cosine; },
                [](double x) { return std::cos(x); }),
            1.5e-7);
}

TEST(LaneMathematics, ArcTangent) {
  EXPECT_LT(
      largest_error(
          -20.0, 20.0, [](const Lane& x) { return arctangent(x); }, [](double x) { return std::atan(x); }),
      3e-7);
}

TEST(LaneMathematics, BinaryLogarithmAndPower) {
  EXPECT_LT(largest_error(
                0.1, 10.0, [](const Lane& x) { return binary_logarithm(x); },
                [](double x) { return std::log2(x); }),
            4e-7);
  EXPECT_LT(largest_error(
                10.0, 1e6, [](const Lane& x) { return binary_logarithm(x); },
                [](double x) { return std::log2(x); }, true),
            2e-7);
  EXPECT_LT(largest_error(
                -20.0, 20.0, [](const Lane& x) { return binary_power(x); },
                [](double x) { return std::exp2(x); }, true),
            2.5e-7);
}

// Heights over 10 m within the wind profile, with its usual exponent and a steep one.
TEST(LaneMathematics, PowerOfTheWindProfile) {
  for (const double exponent : {1.0 / 7.0, 0.4}) {
    EXPECT_LT(largest_error(
                  0.2, 40.0, [&](const Lane& x) { return power(x, Lane(exponent)); },
                  [&](double x) { return std::pow(x, exponent); }, true),
              1e-6);
  }
}

TEST(LaneMathematics, SquareRootIsRoundedAsTheStandardSays) {
  EXPECT_EQ(largest_error(
                0.0, 1e6, [](const Lane& x) { return square_root(x); },
                [](double x) { return static_cast<double>(std::sqrt(static_cast<float>(x))); }),
            0.0);
}

TEST(LaneWords, ChooseAnyAndAll) {
  Lane x;
  for (int lane = 0; lane < k_lanes; ++lane) set(x, lane, static_cast<float>(lane));
  const auto upper = x >= 3.0;
  EXPECT_TRUE(any(upper));
  EXPECT_FALSE(all(upper));
  EXPECT_FALSE(any(x < 0.0));
  EXPECT_TRUE(all(x >= 0.0));
  const Lane chosen = choose(upper, Lane(1.0), Lane(-1.0));
  for (int lane = 0; lane < k_lanes; ++lane) EXPECT_EQ(get(chosen, lane), lane >= 3 ? 1.0f : -1.0f);
  EXPECT_EQ(get(limited(x, Lane(2.0), Lane(4.0)), 0), 2.0f);
  EXPECT_EQ(get(limited(x, Lane(2.0), Lane(4.0)), 7), 4.0f);
  EXPECT_EQ(get(magnitude(-x), 5), 5.0f);
}

}  // namespace
}  // namespace glidewright

#pragma once
// The words in which the equations of flight and the pilot's decisions are written, for one flight in double.
//
// One source is compiled twice: with L = double it is the reference, with L = a lane of floats the batch
// (engine/lanes/vector.hpp has the same words for it). A condition is a Mask<L>: bool here, one bit a lane
// there. `choose` stands for ?:, `if (any(condition))` skips what no flight needs.

#include <cmath>

#include "engine/lanes/words.hpp"

namespace glidewright {

template <>
struct LaneOf<double> {
  using Mask = bool;
};

GLIDEWRIGHT_INLINE bool any(bool condition) {
  return condition;
}
GLIDEWRIGHT_INLINE bool all(bool condition) {
  return condition;
}
GLIDEWRIGHT_INLINE double choose(bool condition, double yes, double no) {
  return condition ? yes : no;
}
GLIDEWRIGHT_INLINE bool choose_mask(bool condition, bool yes, bool no) {
  return condition ? yes : no;
}
GLIDEWRIGHT_INLINE double smaller(double a, double b) {
  return a < b ? a : b;
}
GLIDEWRIGHT_INLINE double larger(double a, double b) {
  return a > b ? a : b;
}
GLIDEWRIGHT_INLINE double magnitude(double a) {
  return std::abs(a);
}
GLIDEWRIGHT_INLINE double square_root(double a) {
  return std::sqrt(a);
}
GLIDEWRIGHT_INLINE double arctangent(double a) {
  return std::atan(a);
}
GLIDEWRIGHT_INLINE double exponential(double a) {
  return std::exp(a);
}
GLIDEWRIGHT_INLINE double logarithm(double a) {
  return std::log(a);
}
GLIDEWRIGHT_INLINE double power(double base, double exponent) {
  return std::pow(base, exponent);
}
GLIDEWRIGHT_INLINE SineCosine<double> sine_cosine(double a) {
  return {std::sin(a), std::cos(a)};
}

/// Of an angle within +-1 rad (path and bank), by the series: error below 1e-12, several times cheaper than
/// the library's, which has to reduce its argument.
GLIDEWRIGHT_INLINE SineCosine<double> sine_cosine_of_small(double x) {
  const double q = x * x;
  const double sine =
      x * (1.0 - q / 6.0 *
                     (1.0 - q / 20.0 *
                                (1.0 - q / 42.0 * (1.0 - q / 72.0 * (1.0 - q / 110.0 * (1.0 - q / 156.0))))));
  const double cosine =
      1.0 -
      q / 2.0 *
          (1.0 - q / 12.0 *
                     (1.0 - q / 30.0 *
                                (1.0 - q / 56.0 * (1.0 - q / 90.0 * (1.0 - q / 132.0 * (1.0 - q / 182.0))))));
  return {sine, cosine};
}

/// x held within [low, high].
template <class L>
GLIDEWRIGHT_INLINE L limited(const L& x, const L& low, const L& high) {
  return smaller(larger(x, low), high);
}

}  // namespace glidewright

#include "engine/plan/binomial.hpp"

#include <cassert>
#include <cmath>
#include <initializer_list>

namespace glidewright {
namespace {

double continued_fraction(double a, double b, double x) {
  constexpr double tiny = 1e-300;
  double c = 1.0;
  double d = 1.0 - (a + b) * x / (a + 1.0);
  d = 1.0 / (std::abs(d) < tiny ? tiny : d);
  double value = d;
  for (int m = 1; m < 500; ++m) {
    const double even = m * (b - m) * x / ((a + 2 * m - 1) * (a + 2 * m));
    const double odd = -(a + m) * (a + b + m) * x / ((a + 2 * m) * (a + 2 * m + 1));
    double change = 1.0;
    for (const double term : {even, odd}) {
      d = 1.0 + term * d;
      d = 1.0 / (std::abs(d) < tiny ? tiny : d);
      c = 1.0 + term / c;
      if (std::abs(c) < tiny) c = tiny;
      change = c * d;
      value *= change;
    }
    if (std::abs(change - 1.0) < 1e-15) break;
  }
  return value;
}

double beta_quantile(double a, double b, double probability) {
  double low = 0.0, high = 1.0;
  for (int round = 0; round < 60; ++round) {
    const double middle = 0.5 * (low + high);
    (incomplete_beta(a, b, middle) < probability ? low : high) = middle;
  }
  return 0.5 * (low + high);
}

}  // namespace

double incomplete_beta(double a, double b, double x) {
  if (x <= 0.0) return 0.0;
  if (x >= 1.0) return 1.0;
  const double front =
      std::exp(std::lgamma(a + b) - std::lgamma(a) - std::lgamma(b) + a * std::log(x) + b * std::log1p(-x));
  if (x < (a + 1.0) / (a + b + 2.0)) return front * continued_fraction(a, b, x) / a;
  return 1.0 - front * continued_fraction(b, a, 1.0 - x) / b;
}

BinomialInterval clopper_pearson(int successes, int trials, double confidence) {
  assert(trials > 0 && successes >= 0 && successes <= trials);
  const double tail = 0.5 * (1.0 - confidence);
  const double k = successes, n = trials;
  return {successes == 0 ? 0.0 : beta_quantile(k, n - k + 1.0, tail),
          successes == trials ? 1.0 : beta_quantile(k + 1.0, n - k, 1.0 - tail)};
}

}  // namespace glidewright

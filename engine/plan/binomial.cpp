#include "engine/plan/binomial.hpp"

#include <algorithm>
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

double log_beta(double a, double b) {
  return std::lgamma(a) + std::lgamma(b) - std::lgamma(a + b);
}

}  // namespace

double incomplete_beta(double a, double b, double x) {
  if (x <= 0.0) return 0.0;
  if (x >= 1.0) return 1.0;
  const double front = std::exp(a * std::log(x) + b * std::log1p(-x) - log_beta(a, b));
  if (x < (a + 1.0) / (a + b + 2.0)) return front * continued_fraction(a, b, x) / a;
  return 1.0 - front * continued_fraction(b, a, 1.0 - x) / b;
}

double beta_quantile(double a, double b, double probability) {
  assert(a > 0.0 && b > 0.0 && probability > 0.0 && probability < 1.0);
  constexpr int most_rounds = 200;  // halves alone need 60
  constexpr double close_enough = 1e-15;
  const double constant = log_beta(a, b);
  double low = 0.0, high = 1.0, x = a / (a + b);
  for (int round = 0; round < most_rounds; ++round) {
    const double over = incomplete_beta(a, b, x) - probability;
    (over < 0.0 ? low : high) = x;
    const double density = std::exp((a - 1.0) * std::log(x) + (b - 1.0) * std::log1p(-x) - constant);
    double next = x - over / density;
    if (!(next > low && next < high)) next = 0.5 * (low + high);
    if (std::abs(next - x) <= close_enough * x || high - low <= close_enough * low) return next;
    x = next;
  }
  return x;
}

std::vector<double> binomial_distribution(int n, double p) {
  assert(n >= 0 && p >= 0.0 && p <= 1.0);
  std::vector<double> share(static_cast<std::size_t>(n) + 1, 0.0);
  if (p == 0.0 || p == 1.0) {
    share[p == 0.0 ? 0 : static_cast<std::size_t>(n)] = 1.0;
    return share;
  }
  const int likeliest = std::min(n, static_cast<int>((n + 1) * p));
  const double odds = p / (1.0 - p);
  const auto at = [&](int k) -> double& { return share[static_cast<std::size_t>(k)]; };
  at(likeliest) =
      std::exp(std::lgamma(n + 1.0) - std::lgamma(likeliest + 1.0) - std::lgamma(n - likeliest + 1.0) +
               likeliest * std::log(p) + (n - likeliest) * std::log1p(-p));
  for (int k = likeliest; k < n; ++k) at(k + 1) = at(k) * odds * (n - k) / (k + 1);
  for (int k = likeliest; k > 0; --k) at(k - 1) = at(k) * k / (odds * (n - k + 1));
  return share;
}

BinomialInterval clopper_pearson(int successes, int trials, double confidence) {
  assert(trials > 0 && successes >= 0 && successes <= trials);
  const double tail = 0.5 * (1.0 - confidence);
  const double k = successes, n = trials;
  return {successes == 0 ? 0.0 : beta_quantile(k, n - k + 1.0, tail),
          successes == trials ? 1.0 : beta_quantile(k + 1.0, n - k, 1.0 - tail)};
}

}  // namespace glidewright

#pragma once

#include <vector>

namespace glidewright {

/// Two-sided interval for a probability from k successes in n trials.
struct BinomialInterval {
  double low = 0.0;
  double high = 1.0;
};

/// Exact interval. Source: Clopper and Pearson, Biometrika 26 (1934): beta quantiles
/// B(a/2; k, n-k+1) and B(1-a/2; k+1, n-k), here from the regularised incomplete beta function.
BinomialInterval clopper_pearson(int successes, int trials, double confidence);

/// Regularised incomplete beta function I_x(a, b), a and b positive. Continued fraction after Lentz
/// (Applied Optics 15, 1976). Accuracy: 1e-12 for shapes up to a hundred; beyond, the rounding of the gamma
/// function's logarithm grows with them.
double incomplete_beta(double a, double b, double x);

/// Where I_x(a, b) is `probability`, in (0, 1): by Newton's steps, and by halves where one leads outside.
/// Accuracy: the probability there is as near to the one asked for as incomplete_beta is exact.
double beta_quantile(double a, double b, double probability);

/// Probabilities of 0, 1, ... n successes in n trials at p. Each from its neighbour, the likeliest first, so
/// that none that matters is lost to rounding. Accuracy: 1e-12 of the largest.
std::vector<double> binomial_distribution(int n, double p);

}  // namespace glidewright

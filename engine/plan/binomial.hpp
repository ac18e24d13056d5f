#pragma once

namespace glidewright {

/// Two-sided interval for a probability from k successes in n trials.
struct BinomialInterval {
  double low = 0.0;
  double high = 1.0;
};

/// Exact interval. Source: Clopper and Pearson, Biometrika 26 (1934): beta quantiles
/// B(a/2; k, n-k+1) and B(1-a/2; k+1, n-k), here by bisection of the regularised incomplete beta function.
BinomialInterval clopper_pearson(int successes, int trials, double confidence);

/// Regularised incomplete beta function I_x(a, b), a and b positive. Continued fraction after Lentz
/// (Applied Optics 15, 1976). Accuracy: 1e-12.
double incomplete_beta(double a, double b, double x);

}  // namespace glidewright

#include "engine/plan/binomial.hpp"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <cmath>

namespace glidewright {
namespace {

// Clopper and Pearson, Biometrika 26 (1934), as quantiles of the beta distribution; recomputed outside this
// project. 5e-5: half of the printed digit.
TEST(ClopperPearson, NinetyFivePerCentIntervals) {
  const struct {
    int successes, trials;
    double low, high;
  } rows[] = {{3, 20, 0.0321, 0.3789}, {42, 100, 0.3220, 0.5229}, {5, 5, 0.4782, 1.0},
              {8, 10, 0.4439, 0.9748}, {10, 10, 0.6915, 1.0},     {0, 10, 0.0, 0.3085}};
  for (const auto& row : rows) {
    const auto interval = clopper_pearson(row.successes, row.trials, 0.95);
    EXPECT_NEAR(interval.low, row.low, 5e-5) << row.successes << " of " << row.trials;
    EXPECT_NEAR(interval.high, row.high, 5e-5) << row.successes << " of " << row.trials;
  }
}

// Lower end of n successes in n at 90 % one-sided, which is 80 % two-sided: 0.1^(1/n), the exact binomial.
TEST(ClopperPearson, AllSuccessesOneSidedNinetyPerCent) {
  EXPECT_NEAR(clopper_pearson(3, 3, 0.80).low, 0.4642, 5e-5);
  EXPECT_NEAR(clopper_pearson(5, 5, 0.80).low, 0.6310, 5e-5);
  EXPECT_NEAR(clopper_pearson(11, 11, 0.80).low, 0.8111, 5e-5);
  EXPECT_NEAR(clopper_pearson(22, 22, 0.80).low, 0.9006, 5e-5);
  // 22 is the least number of landings, all good, that shows 90 %.
  EXPECT_LT(clopper_pearson(21, 21, 0.80).low, 0.90);
}

/// Chance of k or more successes in n, summed term by term: what the interval is defined by.
double chance_of_at_least(int k, int n, double p) {
  double sum = 0.0;
  for (int i = k; i <= n; ++i) {
    sum += std::exp(std::lgamma(n + 1.0) - std::lgamma(i + 1.0) - std::lgamma(n - i + 1.0) + i * std::log(p) +
                    (n - i) * std::log1p(-p));
  }
  return sum;
}

RC_GTEST_PROP(ClopperPearson, EndsAreWhereTheBinomialTailsAreHalfTheRest, ()) {
  const int trials = *rc::gen::inRange(1, 120);
  const int successes = *rc::gen::inRange(0, trials + 1);
  const auto interval = clopper_pearson(successes, trials, 0.95);
  // 1e-9: log-gamma of 120 is good to 1e-13, summed over 120 terms, and the ends to 1e-18.
  if (successes > 0) {
    RC_ASSERT(std::abs(chance_of_at_least(successes, trials, interval.low) - 0.025) < 1e-9);
  }
  if (successes < trials) {
    RC_ASSERT(std::abs(1.0 - chance_of_at_least(successes + 1, trials, interval.high) - 0.025) < 1e-9);
  }
}

RC_GTEST_PROP(ClopperPearson, FailuresMirrorSuccesses, ()) {
  const int trials = *rc::gen::inRange(1, 500);
  const int successes = *rc::gen::inRange(0, trials + 1);
  const auto interval = clopper_pearson(successes, trials, 0.9);
  const auto mirrored = clopper_pearson(trials - successes, trials, 0.9);
  RC_ASSERT(std::abs(interval.low - (1.0 - mirrored.high)) <
            1e-12);  // what the header promises of the beta function
}

// Closed forms: I_x(a, 1) = x^a, I_x(1, b) = 1 - (1 - x)^b, I_1/2(a, a) = 1/2. 1e-12: what the header
// promises.
TEST(IncompleteBeta, ClosedForms) {
  for (const double x : {1e-6, 0.01, 0.3, 0.5, 0.77, 0.999}) {
    for (const double shape : {0.5, 1.0, 3.0, 40.0, 400.0}) {
      EXPECT_NEAR(incomplete_beta(shape, 1.0, x), std::pow(x, shape), 1e-12) << x << " " << shape;
      EXPECT_NEAR(incomplete_beta(1.0, shape, x), -std::expm1(shape * std::log1p(-x)), 1e-12)
          << x << " " << shape;
      EXPECT_NEAR(incomplete_beta(shape, shape, 0.5), 0.5, 1e-12) << shape;
    }
  }
}

RC_GTEST_PROP(BetaQuantile, IsWhereTheDistributionHasTheProbability, ()) {
  const double a = 0.5 + 0.1 * *rc::gen::inRange(0, 2000), b = 0.5 + 0.1 * *rc::gen::inRange(0, 2000);
  const double probability = 0.001 * *rc::gen::inRange(1, 1000);
  RC_ASSERT(std::abs(incomplete_beta(a, b, beta_quantile(a, b, probability)) - probability) < 1e-12);
}

// I_x(a, 1) = x^a and I_x(1, b) = 1 - (1 - x)^b, solved for x. Right by its probability, or to the last
// digits that a number so near to 1 has.
TEST(BetaQuantile, ClosedForms) {
  for (const double probability : {1e-6, 0.05, 0.5, 0.95, 0.999999}) {
    for (const double shape : {0.5, 1.0, 7.0, 100.0}) {
      const double power = beta_quantile(shape, 1.0, probability);
      EXPECT_NEAR(std::pow(power, shape), probability, 1e-12) << shape;
      const double mirrored = beta_quantile(1.0, shape, probability);
      const double expected = -std::expm1(std::log1p(-probability) / shape);
      const bool to_the_last_digits = std::abs(mirrored - expected) <= 4e-16;
      EXPECT_TRUE(to_the_last_digits ||
                  std::abs(-std::expm1(shape * std::log1p(-mirrored)) - probability) < 1e-12)
          << shape << " " << probability;
    }
  }
}

RC_GTEST_PROP(BinomialDistribution, ItsTailsAreTheIncompleteBetaFunction, ()) {
  const int n = *rc::gen::inRange(1, 1500);
  const double p = 0.001 * *rc::gen::inRange(0, 1001);
  const auto share = binomial_distribution(n, p);
  double tail = 0.0;
  for (int k = n; k > 0; --k) {
    tail += share[static_cast<std::size_t>(k)];
    RC_ASSERT(std::abs(tail - incomplete_beta(k, n - k + 1.0, p)) < 1e-11);
  }
  RC_ASSERT(std::abs(tail + share[0] - 1.0) < 1e-11);
}

}  // namespace
}  // namespace glidewright

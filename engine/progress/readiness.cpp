#include "engine/progress/readiness.hpp"

#include <algorithm>
#include <cassert>
#include <numeric>

#include "engine/plan/binomial.hpp"

namespace glidewright {
namespace {

constexpr double k_jeffreys = 0.5;
constexpr int k_most_more = 200;

/// Distribution of the number of successes of unlike trials.
std::vector<double> count_distribution(const std::vector<double>& probabilities) {
  std::vector<double> counts = {1.0};
  for (const double p : probabilities) {
    std::vector<double> next(counts.size() + 1, 0.0);
    for (std::size_t k = 0; k < counts.size(); ++k) {
      next[k] += counts[k] * (1.0 - p);
      next[k + 1] += counts[k] * p;
    }
    counts = std::move(next);
  }
  return counts;
}

/// How unlikely it is to meet the standard as often as it was met, or more often, were its probability p:
/// averaged over how often it may have been.
class Tail {
 public:
  explicit Tail(const std::vector<double>& success_probabilities)
      : n_(static_cast<int>(success_probabilities.size())),
        at_most_(count_distribution(success_probabilities)) {
    std::partial_sum(at_most_.begin(), at_most_.end(), at_most_.begin());
  }
  /// Sum over k of P(k were met) P(k or more | p), taken the other way round: each count with all that it is
  /// not less than.
  double at(double p) const {
    const auto share = binomial_distribution(n_, p);
    return std::inner_product(share.begin(), share.end(), at_most_.begin(), 0.0);
  }

 private:
  int n_;
  std::vector<double> at_most_;
};

/// Whether the lower bound is `wanted` or more, without looking for it.
bool proves(const std::vector<double>& success_probabilities, double wanted, double confidence) {
  return !success_probabilities.empty() && Tail(success_probabilities).at(wanted) < 1.0 - confidence;
}

std::vector<const RatedAttempt*> counted(const std::vector<RatedAttempt>& attempts, int window,
                                         Readiness& result) {
  std::vector<const RatedAttempt*> kept;
  for (auto one = attempts.rbegin(); one != attempts.rend() && static_cast<int>(kept.size()) < window;
       ++one) {
    if (!one->student_alone()) {
      ++result.left_out_not_alone;
      ++result.not_alone_by[one->flown_by];
    } else if (one->forced) {
      ++result.left_out_forced;
    } else {
      kept.push_back(&*one);
    }
  }
  std::reverse(kept.begin(), kept.end());
  return kept;
}

void add(Share& share, double made) {
  share.made += made;
  ++share.of;
}

}  // namespace

double lower_bound(const std::vector<double>& success_probabilities, double confidence) {
  assert(confidence > 0.0 && confidence < 1.0);
  if (success_probabilities.empty()) return 0.0;
  const Tail tail(success_probabilities);
  // The more of it may be no success at all, the less is proved: then no p is unlikely enough.
  if (tail.at(0.0) >= 1.0 - confidence) return 0.0;
  double low = 0.0, high = 1.0;
  for (int round = 0; round < 60; ++round) {
    const double middle = 0.5 * (low + high);
    (tail.at(middle) < 1.0 - confidence ? low : high) = middle;
  }
  return low;
}

Readiness readiness(const std::vector<RatedAttempt>& attempts, const ReadinessRules& rules) {
  Readiness result;
  std::vector<double> met;
  for (const RatedAttempt* one : counted(attempts, rules.window, result)) {
    const bool landed = one->end == RatedAttempt::End::landed;
    const double chance = landed ? one->probability_met : 0.0;
    met.push_back(chance);
    add(result.met, chance);
    if (landed) add(result.in_box_of_landed, one->probability_in_box);
    if (!landed) add(result.go_around_decisions, one->sound_go_around ? 1.0 : 0.0);
    if (one->first_of_day) add(result.first_of_days, chance);
  }
  result.at_least = lower_bound(met, rules.confidence);
  const double a = k_jeffreys + result.met.made, b = k_jeffreys + result.met.of - result.met.made;
  result.next_mean = a / (a + b);
  result.next_low90 = beta_quantile(a, b, 0.05);
  result.next_high90 = beta_quantile(a, b, 0.95);

  // Old attempts leave the window as new ones come: what counts then are the last ones.
  std::vector<double> then = met;
  while (!proves(then, rules.wanted, rules.confidence) && result.more_without_a_miss < k_most_more) {
    ++result.more_without_a_miss;
    then.push_back(1.0);
    if (static_cast<int>(then.size()) > rules.window) then.erase(then.begin());
  }
  return result;
}

}  // namespace glidewright

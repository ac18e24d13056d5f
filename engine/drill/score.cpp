#include "engine/drill/score.hpp"

#include <algorithm>
#include <cmath>

#include "engine/plan/binomial.hpp"

namespace glidewright {
namespace {

void settle(Hits& hits) {
  if (hits.of == 0) return;
  const auto interval = clopper_pearson(hits.right, hits.of, 0.90);
  hits.low90 = interval.low;
  hits.high90 = interval.high;
}

/// Two-sided binomial test against one half: twice the smaller tail, at most 1.
double sign_test(int one_way, int other_way) {
  const int of = one_way + other_way, fewer = std::min(one_way, other_way);
  if (of == 0) return 1.0;
  // P(K <= k) for n trials of 1/2 is I_{1/2}(n - k, k + 1).
  return std::min(1.0, 2.0 * incomplete_beta(of - fewer, fewer + 1, 0.5));
}

double mean_of(const std::vector<double>& values) {
  double sum = 0.0;
  for (const double value : values) sum += value;
  return sum / static_cast<double>(values.size());
}

void score_marks(const std::vector<DrillAnswer>& answers, DrillScore& score) {
  std::vector<double> ahead, distance;
  for (const DrillAnswer& one : answers) {
    if (!one.mark_ahead_ft || !one.mark_right_ft) continue;
    ahead.push_back(*one.mark_ahead_ft);
    distance.push_back(std::hypot(*one.mark_ahead_ft, *one.mark_right_ft));
  }
  score.marks = static_cast<int>(ahead.size());
  if (ahead.empty()) return;
  std::sort(distance.begin(), distance.end());
  const std::size_t half = distance.size() / 2;
  score.median_mark_ft =
      distance.size() % 2 == 1 ? distance[half] : 0.5 * (distance[half - 1] + distance[half]);
  score.mean_ahead_ft = mean_of(ahead);
  constexpr std::size_t k_enough_for_a_spread = 3;
  if (ahead.size() < k_enough_for_a_spread) return;
  double squares = 0.0;
  for (const double value : ahead) squares += (value - *score.mean_ahead_ft) * (value - *score.mean_ahead_ft);
  const auto n = static_cast<double>(ahead.size());
  score.mean_ahead_sd_ft = std::sqrt(squares / (n - 1.0) / n);
}

}  // namespace

DrillScore score_of(const std::vector<DrillAnswer>& answers) {
  DrillScore score;
  for (const DrillAnswer& one : answers) {
    const bool right = one.said == one.truth;
    Hits& same_sureness = score.by_sureness[static_cast<std::size_t>(one.sureness)];
    for (Hits* hits : {&score.all, &same_sureness}) {
      hits->right += right;
      ++hits->of;
    }
    score.said_too_low += one.said < one.truth;
    score.said_too_high += one.said > one.truth;
  }
  settle(score.all);
  for (Hits& hits : score.by_sureness) settle(hits);
  score.bias_p = sign_test(score.said_too_low, score.said_too_high);
  score_marks(answers, score);
  return score;
}

DrillAnswer answer_to(const Situation& situation, Energy said, Sureness sureness,
                      const std::optional<RunwayPoint>& mark, double runway_true_deg) {
  DrillAnswer answer{said, situation.energy, sureness, std::nullopt, std::nullopt};
  if (!mark) return answer;
  const double heading = (situation.in_20_s.heading_true_deg - runway_true_deg) * k_radians_per_degree;
  const double along_ft = mark->along_ft - situation.in_20_s.along_ft;
  const double cross_ft = mark->cross_ft - situation.in_20_s.cross_ft;
  answer.mark_ahead_ft = along_ft * std::cos(heading) + cross_ft * std::sin(heading);
  answer.mark_right_ft = cross_ft * std::cos(heading) - along_ft * std::sin(heading);
  return answer;
}

}  // namespace glidewright

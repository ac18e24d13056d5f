#include "engine/progress/practice.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <map>
#include <numbers>

#include "engine/plan/binomial.hpp"
#include "engine/units/words.hpp"

namespace glidewright {
namespace {

constexpr int k_fewest_of_a_cause = 3;
constexpr int k_fewest_of_a_group = 3;
constexpr std::size_t k_fewest_for_learning = 8;
constexpr std::size_t k_most_to_practise = 3;
constexpr double k_two_sided_90 = 0.95;

bool counts(const RatedAttempt& rated) {
  return rated.student_alone() && !rated.forced;
}

std::vector<PractisedAttempt> in_window(const std::vector<PractisedAttempt>& attempts, int window) {
  std::vector<PractisedAttempt> counted;
  for (const PractisedAttempt& one : attempts)
    if (counts(one.rated)) counted.push_back(one);
  const auto most = static_cast<std::size_t>(window);
  if (counted.size() > most)
    counted.erase(counted.begin(), counted.end() - static_cast<std::ptrdiff_t>(most));
  return counted;
}

CauseOverTime over_time(const std::string& cause, const std::vector<double>& effects_ft) {
  CauseOverTime found{cause, static_cast<int>(effects_ft.size())};
  const auto n = static_cast<double>(effects_ft.size());
  for (const double effect : effects_ft) found.mean_ft += effect / n;
  double squares = 0.0;
  for (const double effect : effects_ft) squares += (effect - found.mean_ft) * (effect - found.mean_ft);
  found.spread_ft = std::sqrt(squares / (n - 1.0));
  const double half_ft = student_t_quantile(k_two_sided_90, n - 1.0) * found.spread_ft / std::sqrt(n);
  found.low90_ft = found.mean_ft - half_ft;
  found.high90_ft = found.mean_ft + half_ft;
  return found;
}

std::vector<CauseOverTime> causes_over_time(const std::vector<PractisedAttempt>& attempts) {
  std::map<std::string, std::vector<double>> effects;
  for (const PractisedAttempt& one : attempts)
    for (const CauseEffect& cause : one.causes) effects[cause.cause].push_back(cause.effect_ft);
  std::vector<CauseOverTime> found;
  for (const auto& [cause, of_cause] : effects)
    if (static_cast<int>(of_cause.size()) >= k_fewest_of_a_cause) found.push_back(over_time(cause, of_cause));
  std::stable_sort(found.begin(), found.end(), [](const CauseOverTime& a, const CauseOverTime& b) {
    return std::abs(a.mean_ft) > std::abs(b.mean_ft);
  });
  return found;
}

/// Clopper and Pearson at 90 % for an expected count, between the two whole ones.
void add_interval(GroupShare& group) {
  const double below = std::floor(group.met.made), share = group.met.made - below;
  const auto low = clopper_pearson(static_cast<int>(below), group.met.of, 0.90);
  const auto high = clopper_pearson(std::min(static_cast<int>(below) + 1, group.met.of), group.met.of, 0.90);
  group.low90 = (1.0 - share) * low.low + share * high.low;
  group.high90 = (1.0 - share) * low.high + share * high.high;
}

std::vector<GroupShare> shares_by(const std::vector<PractisedAttempt>& attempts,
                                  const std::function<std::string(const PractisedAttempt&)>& group_of) {
  std::map<std::string, Share> shares;
  for (const PractisedAttempt& one : attempts) {
    const std::string group = group_of(one);
    if (group.empty()) continue;
    shares[group].made += one.rated.probability_met;
    ++shares[group].of;
  }
  std::vector<GroupShare> found;
  for (const auto& [group, met] : shares) {
    if (met.of < k_fewest_of_a_group) continue;
    found.push_back({group, met});
    add_interval(found.back());
  }
  if (found.size() < 2) found.clear();
  return found;
}

/// Common practice, no source: where a trainer's pattern begins to feel the wind, and where it rules it.
std::string wind_group(const PractisedAttempt& one) {
  if (!one.wind_kt) return {};
  if (*one.wind_kt < 5.0) return "wind below 5 kt";
  return *one.wind_kt < 10.0 ? "wind 5 to 10 kt" : "wind over 10 kt";
}

/// That a draw from the second Beta posterior is greater than one from the first, Jeffreys' prior each: the
/// first's distribution averaged over the second's density. Over the angle whose sine squared is the
/// probability: there both are smooth to the ends, and equal pieces are enough. Accuracy: 1e-5.
double probability_greater(const Share& first, const Share& second) {
  const double a1 = 0.5 + first.made, b1 = 0.5 + first.of - first.made;
  const double a2 = 0.5 + second.made, b2 = 0.5 + second.of - second.made;
  constexpr int k_pieces = 200;
  const auto log_density = [&](double sine2) {
    return (a2 - 0.5) * std::log(sine2) + (b2 - 0.5) * std::log1p(-sine2);
  };
  const double greatest = log_density(std::clamp(second.made / second.of, 1e-9, 1.0 - 1e-9));
  double sum = 0.0, weights = 0.0;
  for (int i = 0; i < k_pieces; ++i) {
    const double sine = std::sin((i + 0.5) * (0.5 * std::numbers::pi / k_pieces)), sine2 = sine * sine;
    const double weight = std::exp(log_density(sine2) - greatest);
    if (weight < 1e-12) continue;
    weights += weight;
    sum += weight * incomplete_beta(a1, b1, sine2);
  }
  return sum / weights;
}

std::optional<LearningCurve> learning_of(const std::vector<PractisedAttempt>& attempts) {
  if (attempts.size() < k_fewest_for_learning) return std::nullopt;
  LearningCurve curve;
  const std::size_t half = attempts.size() / 2;
  for (std::size_t i = 0; i < attempts.size(); ++i) {
    Share& part = i < half ? curve.earlier : curve.later;
    part.made += attempts[i].rated.probability_met;
    ++part.of;
  }
  curve.probability_better = probability_greater(curve.earlier, curve.later);
  return curve;
}

std::string way(double feet) {
  return feet > 0.0 ? "long" : "short";
}

/// Neither the student's doing nor anything to practise.
bool is_the_days(const CauseOverTime& one) {
  return one.cause.rfind("wind and airplane", 0) == 0;
}

void add_leaning_cause(const std::vector<CauseOverTime>& causes, std::vector<Practice>& practise) {
  // Less than what point-mass flights leave open by themselves (causes.cpp) is no habit yet.
  constexpr double k_least_ft = 120.0;
  const auto found = std::find_if(causes.begin(), causes.end(), [](const CauseOverTime& one) {
    return one.leans() && std::abs(one.mean_ft) > k_least_ft;
  });
  if (found == causes.end()) return;
  const std::string how_much =
      words("It makes the landing %.0f ft %s on average (%s to %s ft, 9 in 10 sure, over %d attempts): ",
            tens(std::abs(found->mean_ft)), way(found->mean_ft).c_str(),
            signed_words(tens(found->low90_ft)).c_str(), signed_words(tens(found->high90_ft)).c_str(),
            found->attempts);
  practise.push_back(is_the_days(*found)
                         ? Practice{"the plan, not the student",
                                    how_much +
                                        "wind or airplane are not as planned. Fit the airplane to logged "
                                        "glides, and ask for the wind at the field."}
                         : Practice{found->cause, how_much + "one habit, one correction."});
}

void add_widest_cause(const std::vector<CauseOverTime>& causes, std::vector<Practice>& practise) {
  constexpr double k_wide_ft = 100.0;
  const CauseOverTime* widest = nullptr;
  for (const CauseOverTime& one : causes) {
    const bool named = !practise.empty() && practise.front().what == one.cause;
    if (!named && !is_the_days(one) && one.spread_ft > k_wide_ft &&
        (!widest || one.spread_ft > widest->spread_ft))
      widest = &one;
  }
  if (widest == nullptr) return;
  practise.push_back(
      {widest->cause, words("It differs by about %.0f ft from one attempt to the next: the same "
                            "thing the same way each time.",
                            tens(widest->spread_ft))});
}

void add_decisions(const std::vector<PractisedAttempt>& attempts, std::vector<Practice>& practise) {
  int around = 0, sound = 0;
  for (const PractisedAttempt& one : attempts) {
    if (one.rated.end != RatedAttempt::End::went_around) continue;
    ++around;
    sound += one.rated.sound_go_around;
  }
  if (around - sound < 2) return;
  practise.push_back(
      {"the decision at the gate", words("Of %d go-arounds %d were begun although the gate was "
                                         "stable: say aloud at 200 ft what is there and what "
                                         "is missing.",
                                         around, around - sound)});
}

void add_first_of_day(const std::vector<PractisedAttempt>& attempts, std::vector<Practice>& practise) {
  Share first, later;
  for (const PractisedAttempt& one : attempts) {
    Share& share = one.rated.first_of_day ? first : later;
    share.made += one.rated.probability_met;
    ++share.of;
  }
  constexpr double k_sure = 0.9;
  if (first.of < k_fewest_of_a_group || later.of < k_fewest_of_a_group) return;
  if (probability_greater(first, later) < k_sure) return;
  practise.push_back({"the first one of the day",
                      words("%.1f of %d met the standard, of the later ones %.1f of %d: the test is one cold "
                            "try. Begin a lesson with one, after a plan said aloud.",
                            first.made, first.of, later.made, later.of)});
}

}  // namespace

double student_t_quantile(double p, double degrees_of_freedom) {
  if (p < 0.5) return -student_t_quantile(1.0 - p, degrees_of_freedom);
  const double nu = degrees_of_freedom;
  // P(T <= t) = 1 - I_x(nu/2, 1/2) / 2 with x = nu / (nu + t^2).
  const auto below = [nu](double t) { return 1.0 - 0.5 * incomplete_beta(0.5 * nu, 0.5, nu / (nu + t * t)); };
  double low = 0.0, high = 1.0;
  while (below(high) < p) high *= 2.0;
  for (int i = 0; i < 100; ++i) {
    const double middle = 0.5 * (low + high);
    (below(middle) < p ? low : high) = middle;
  }
  return 0.5 * (low + high);
}

StudentProgress progress_of(const std::vector<PractisedAttempt>& attempts, const ReadinessRules& rules) {
  const auto counted = in_window(attempts, rules.window);
  StudentProgress progress;
  progress.causes = causes_over_time(counted);
  progress.learning = learning_of(counted);
  progress.by_wind = shares_by(counted, wind_group);
  progress.by_airplane = shares_by(counted, [](const PractisedAttempt& one) { return one.airplane; });
  progress.by_instructor = shares_by(counted, [](const PractisedAttempt& one) { return one.instructor; });
  add_leaning_cause(progress.causes, progress.practise);
  add_widest_cause(progress.causes, progress.practise);
  add_decisions(counted, progress.practise);
  add_first_of_day(counted, progress.practise);
  if (progress.practise.size() > k_most_to_practise) progress.practise.resize(k_most_to_practise);
  return progress;
}

}  // namespace glidewright

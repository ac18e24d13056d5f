#pragma once
// What a student's attempts have in common, whether they get better, and what to practise next.

#include <optional>
#include <string>
#include <vector>

#include "engine/progress/readiness.hpp"

namespace glidewright {

/// One cause of one miss, feet of runway.
struct CauseEffect {
  std::string cause;
  double effect_ft = 0.0;
  double low95_ft = 0.0;
  double high95_ft = 0.0;
};

/// An attempt with its circumstances; in the order flown. Only those that count are looked at.
struct PractisedAttempt {
  RatedAttempt rated;
  std::vector<CauseEffect> causes;
  std::optional<double> wind_kt;
  std::string airplane;
  std::string instructor;  ///< who judged it
};

/// A cause over the attempts that have causes.
struct CauseOverTime {
  std::string cause;
  int attempts = 0;
  double mean_ft = 0.0;
  double low90_ft = 0.0;  ///< of the mean, by Student's t; the attempts' own errors are in their spread
  double high90_ft = 0.0;
  double spread_ft = 0.0;  ///< standard deviation from attempt to attempt
  bool leans() const { return low90_ft > 0.0 || high90_ft < 0.0; }
};

/// Standard met in one group of attempts.
struct GroupShare {
  std::string group;  ///< "wind 5 to 10 kt", an airplane, an instructor
  Share met;
  double low90 = 0.0;
  double high90 = 1.0;
};

/// Earlier half of the window against the later one.
struct LearningCurve {
  Share earlier;
  Share later;
  double probability_better = 0.5;  ///< that the later half's probability is the greater one
};

struct Practice {
  std::string what;    ///< "base turn"
  std::string reason;  ///< a sentence with its numbers
};

struct StudentProgress {
  std::vector<CauseOverTime> causes;      ///< those seen in three attempts or more, the greatest mean first
  std::optional<LearningCurve> learning;  ///< from eight counted attempts on
  std::vector<GroupShare> by_wind, by_airplane, by_instructor;  ///< where two groups have three or more
  std::vector<Practice> practise;                               ///< at most three, the most rewarding first
};

/// Over the window of `rules`, the last counted attempts. Forced go-arounds and attempts not flown alone are
/// left out, as in readiness().
StudentProgress progress_of(const std::vector<PractisedAttempt>& attempts, const ReadinessRules& rules = {});

/// Quantile of Student's t with so many degrees of freedom, p in (0, 1). By bisection of the incomplete beta
/// function. Accuracy: 1e-9.
double student_t_quantile(double p, double degrees_of_freedom);

}  // namespace glidewright

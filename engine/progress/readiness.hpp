#pragma once
// What a student's landings prove: at least how often the standard would be met, and how little a lucky run
// says.

#include <map>
#include <optional>
#include <vector>

#include "engine/progress/flown_by.hpp"

namespace glidewright {

/// One power-off attempt, in the order flown.
struct RatedAttempt {
  enum class End { landed, went_around } end = End::landed;
  double probability_met = 0.0;     ///< of the standard, by the touchdown's distribution; 0 for a go-around
  double probability_in_box = 0.0;  ///< of the landing place alone
  FlownBy flown_by = FlownBy::student;  ///< not by the student alone: shown, not counted
  bool forced = false;                  ///< a go-around for traffic or a call: not the approach's
  bool sound_go_around = false;         ///< not stable at the gate, and gone around
  bool first_of_day = false;            ///< one cold try, as the test is

  bool student_alone() const { return flown_by == FlownBy::student; }
};

/// Fixed beforehand, so that nobody stops at a lucky run.
struct ReadinessRules {
  int window = 20;           ///< the last so many counted attempts
  double confidence = 0.90;  ///< one-sided
  double wanted = 0.80;      ///< of attempts that meet the standard; common practice, no source
};

struct Share {
  double made = 0.0;  ///< expected, where a touchdown is unsure
  int of = 0;
};

struct Readiness {
  Share met;                  ///< of counted attempts in the window; a go-around is not demonstrated
  double at_least = 0.0;      ///< lower bound of the probability to meet it, at the rules' confidence
  Share in_box_of_landed;     ///< so that bailing out does not raise the score
  Share go_around_decisions;  ///< sound ones of all go-arounds that the approach called for
  Share first_of_days;
  double next_mean = 0.5;  ///< of the next attempt: Beta posterior from Jeffreys' prior, 1/2 and 1/2
  double next_low90 = 0.0;
  double next_high90 = 1.0;
  /// Further attempts that would have to be met without a miss to prove `wanted`; 0: proved.
  int more_without_a_miss = 0;
  int left_out_not_alone = 0;
  std::map<FlownBy, int> not_alone_by;  ///< the same by who flew
  int left_out_forced = 0;
};

Readiness readiness(const std::vector<RatedAttempt>& attempts, const ReadinessRules& rules = {});

/// One-sided lower bound of a success probability when each trial succeeded with a known probability (1 or 0
/// where it was seen). With certain outcomes: Clopper and Pearson, Biometrika 26 (1934). With unsure ones:
/// the p at which so many successes or more are as unlikely as 1 - confidence, averaged over how many there
/// may have been.
double lower_bound(const std::vector<double>& success_probabilities, double confidence);

}  // namespace glidewright

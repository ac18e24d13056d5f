#pragma once
// What somebody's answers say of his eye: how often right, how well he knows it, which way he errs.

#include <array>
#include <optional>
#include <vector>

#include "engine/drill/situation.hpp"

namespace glidewright {

enum class Sureness { guess, fairly, sure };

/// One answer beside the truth.
struct DrillAnswer {
  Energy said = Energy::on;
  Energy truth = Energy::on;
  Sureness sureness = Sureness::fairly;
  /// The mark for 20 s ahead, from where it would be: along the course there, ahead positive, and right of
  /// it. None where no mark was made.
  std::optional<double> mark_ahead_ft;
  std::optional<double> mark_right_ft;
};

/// Right answers of all, with Clopper and Pearson's interval at 90 %.
struct Hits {
  int right = 0;
  int of = 0;
  double low90 = 0.0;
  double high90 = 1.0;
};

struct DrillScore {
  Hits all;
  std::array<Hits, 3> by_sureness;  ///< as Sureness counts
  int said_too_low = 0;             ///< misses towards low: it was higher than it looked to him
  int said_too_high = 0;
  /// Two-sided sign test over the misses: how likely so lopsided ones are where the eye has no bias.
  double bias_p = 1.0;
  int marks = 0;
  std::optional<double> median_mark_ft;    ///< distance of the marks from the places
  std::optional<double> mean_ahead_ft;     ///< positive: marked too far ahead
  std::optional<double> mean_ahead_sd_ft;  ///< of that mean; from 3 marks on
  /// Fewer misses than this leave the direction open.
  bool leans() const { return bias_p < 0.1; }
};

DrillScore score_of(const std::vector<DrillAnswer>& answers);

/// The answer to a situation; `mark` is where the student thinks the airplane would be in 20 s, runway frame.
DrillAnswer answer_to(const Situation& situation, Energy said, Sureness sureness,
                      const std::optional<RunwayPoint>& mark, double runway_true_deg);

}  // namespace glidewright

#pragma once
// From likelihoods over time to a distribution of places, and the words for it.

#include <string>
#include <vector>

#include "engine/debrief/touchdown_evidence.hpp"

namespace glidewright::touchdown {

/// Probabilities of touchdown times on an even grid; and what each kind of evidence says alone.
struct TimePosterior {
  double first_s = 0.0;
  double step_s = 0.25;
  std::vector<double> probability;  ///< sums to 1
  double sd_from_height_s = 0.0;    ///< of the posterior that height alone would give
  double sd_from_speed_s = 0.0;
  double expected_hold_off_s = 0.0;

  double time_s(std::size_t i) const { return first_s + step_s * static_cast<double>(i); }
  double quantile(double p) const;
  double mean() const;
  double sd() const;
};
TimePosterior weigh_times(const LandingEvidence& evidence, const TouchdownPrior& prior);

struct PlaceEstimate {
  double along_ft = 0.0;
  double cross_ft = 0.0;
  double speed_fps = 0.0;
  double sd_ft = 0.0;  ///< of along at that time, from sampling and receiver; runway not counted
};
/// Local quadratic through the fixes around; beyond the log's ends, a slowing airplane.
PlaceEstimate place_at(const LandingEvidence& evidence, double time_s);

/// Normal distributions, one for each touchdown time.
class PlaceMixture {
 public:
  struct Part {
    double along_ft = 0.0, sd_ft = 1.0, weight = 0.0;
  };
  explicit PlaceMixture(std::vector<Part> parts);
  double probability_below(double along_ft) const;
  double quantile(double p) const;
  std::vector<WeightedPlace> places() const;

 private:
  std::vector<Part> parts_;
  double low_ft_ = 0.0, high_ft_ = 0.0;  ///< everything lies between
};
PlaceMixture place_mixture(const LandingEvidence& evidence, const TimePosterior& posterior,
                           double runway_sd_ft);

std::string basis_in_words(const LandingEvidence& evidence, const TimePosterior& posterior,
                           const TouchdownPrior& prior);

}  // namespace glidewright::touchdown

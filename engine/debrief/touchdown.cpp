#include "engine/debrief/touchdown.hpp"

#include <algorithm>
#include <cmath>

#include "engine/debrief/touchdown_evidence.hpp"
#include "engine/debrief/touchdown_model.hpp"
#include "engine/debrief/touchdown_posterior.hpp"

namespace glidewright {

double Touchdown::probability_between(double low_ft, double high_ft) const {
  double sum = 0.0;
  for (const WeightedPlace& place : distribution)
    if (place.along_ft >= low_ft && place.along_ft <= high_ft) sum += place.weight;
  return std::min(sum, 1.0);
}

double Touchdown::along_sd_ft() const {
  constexpr double two_sided_95 = 1.96;
  return (high95_ft - low95_ft) / (2.0 * two_sided_95);
}

Touchdown locate_touchdown(const TrackLog& log, const RunwayFrame& frame, const SmoothTrack& track,
                           double rough_time_unix_s, const TouchdownPrior& prior) {
  using namespace touchdown;
  const LandingEvidence evidence = gather_evidence(log, frame, track, rough_time_unix_s, prior);
  const TimePosterior posterior = weigh_times(evidence, prior);
  const PlaceMixture mixture = place_mixture(evidence, posterior, prior.runway_position_sd_ft);

  Touchdown result;
  const double median_s = posterior.quantile(0.5);
  result.time_unix_s = rough_time_unix_s + median_s;
  result.time_sd_s = posterior.sd();
  result.along_ft = mixture.quantile(0.5);
  result.low95_ft = mixture.quantile(0.025);
  result.high95_ft = mixture.quantile(0.975);
  const PlaceEstimate place = place_at(evidence, median_s);
  result.cross_ft = place.cross_ft;
  result.groundspeed_kt = std::max(place.speed_fps, 0.0) / k_fps_per_knot;
  result.distribution = mixture.places();
  result.basis = basis_in_words(evidence, posterior, prior);
  return result;
}

}  // namespace glidewright

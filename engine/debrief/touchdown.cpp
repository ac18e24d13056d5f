#include "engine/debrief/touchdown.hpp"

#include <algorithm>
#include <cmath>

#include "engine/debrief/touchdown_evidence.hpp"
#include "engine/debrief/touchdown_felt.hpp"
#include "engine/debrief/touchdown_model.hpp"
#include "engine/debrief/touchdown_posterior.hpp"
#include "engine/units/words.hpp"

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

namespace touchdown {
namespace {

Touchdown located(const LandingEvidence& evidence, const TimePosterior& posterior, double rough_time_unix_s,
                  const TouchdownPrior& prior) {
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
  return result;
}

/// A normal distribution about zero.
TimePosterior marked_time(double sd_s) {
  constexpr double reach = 3.5;
  constexpr int cells = 35;
  TimePosterior posterior;
  posterior.step_s = 2.0 * reach * sd_s / (cells - 1);
  posterior.first_s = -reach * sd_s;
  double sum = 0.0;
  for (int i = 0; i < cells; ++i) {
    const double off = posterior.time_s(static_cast<std::size_t>(i)) / sd_s;
    posterior.probability.push_back(std::exp(-0.5 * off * off));
    sum += posterior.probability.back();
  }
  for (double& p : posterior.probability) p /= sum;
  return posterior;
}

}  // namespace
}  // namespace touchdown

Touchdown locate_touchdown(const TrackLog& log, const RunwayFrame& frame, const SmoothTrack& track,
                           double rough_time_unix_s, const TouchdownPrior& prior) {
  using namespace touchdown;
  const LandingEvidence evidence = gather_evidence(log, frame, track, rough_time_unix_s, prior);
  const TimePosterior posterior = weigh_times(evidence, prior);
  Touchdown result = located(evidence, posterior, rough_time_unix_s, prior);
  result.basis = basis_in_words(evidence, posterior, prior);
  return result;
}

FeltTouchdown touchdown_as_felt(const TrackLog& log, const RunwayFrame& frame, const SmoothTrack& track,
                                double rough_time_unix_s, const TouchdownPrior& prior,
                                const AccelerometerLog& felt, const ClockOffset& clock) {
  using namespace touchdown;
  LandingEvidence evidence = gather_evidence(log, frame, track, rough_time_unix_s, prior);
  const TimePosterior positions = weigh_times(evidence, prior);
  const FeltAnswer answer = felt_likelihood(evidence, felt, clock, rough_time_unix_s);
  if (!answer.likelihood) return {{}, 0.0, answer.reason};
  const auto both = with_felt(evidence, positions, *answer.likelihood);
  if (!both) return {{}, 0.0, "the jolt that the phone felt lies where positions and speed exclude it"};
  evidence.clock_sd_s = 0.0;  // it is in the times already
  FeltTouchdown result{located(evidence, *both, rough_time_unix_s, prior),
                       answer.likelihood->bounce_probability, ""};
  result.touchdown->basis = felt_in_words(positions, *both, clock, *answer.likelihood);
  return result;
}

Touchdown touchdown_at_moment(const TrackLog& log, const RunwayFrame& frame, const SmoothTrack& track,
                              double time_unix_s, double time_sd_s, const TouchdownPrior& prior) {
  using namespace touchdown;
  const LandingEvidence evidence = gather_evidence(log, frame, track, time_unix_s, prior);
  Touchdown result = located(evidence, marked_time(time_sd_s), time_unix_s, prior);
  result.basis = words("At the marked moment, within %.1f s.", 1.96 * time_sd_s);
  return result;
}

}  // namespace glidewright

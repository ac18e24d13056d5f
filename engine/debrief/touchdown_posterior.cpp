#include "engine/debrief/touchdown_posterior.hpp"

#include <Eigen/Core>
#include <algorithm>
#include <cmath>

#include "engine/debrief/touchdown_model.hpp"

namespace glidewright::touchdown {
namespace {

/// The model's parts are not as independent as it takes them to be: the log posterior is multiplied by this.
/// Chosen so that 95 % intervals cover 95 % of simulated landings.
constexpr double k_temper = 0.7;
constexpr double k_time_step_s = 0.25;

double log_sum(const Eigen::ArrayXd& logs) {
  const double greatest = logs.maxCoeff();
  return greatest + std::log((logs - greatest).exp().sum());
}

std::vector<double> normalised(const std::vector<double>& logs) {
  const double greatest = *std::max_element(logs.begin(), logs.end());
  std::vector<double> probability(logs.size());
  double sum = 0.0;
  for (std::size_t i = 0; i < logs.size(); ++i)
    sum += probability[i] = std::exp(k_temper * (logs[i] - greatest));
  for (double& p : probability) p /= sum;
  return probability;
}

}  // namespace

double TimePosterior::mean() const {
  double sum = 0.0;
  for (std::size_t i = 0; i < probability.size(); ++i) sum += probability[i] * time_s(i);
  return sum;
}

double TimePosterior::sd() const {
  const double middle = mean();
  double sum = 0.0;
  for (std::size_t i = 0; i < probability.size(); ++i)
    sum += probability[i] * (time_s(i) - middle) * (time_s(i) - middle);
  return std::sqrt(sum + step_s * step_s / 12.0);
}

/// Each grid point stands for the cell around it.
double TimePosterior::quantile(double p) const {
  double below = 0.0;
  for (std::size_t i = 0; i < probability.size(); ++i) {
    if (below + probability[i] >= p && probability[i] > 0.0)
      return time_s(i) + step_s * ((p - below) / probability[i] - 0.5);
    below += probability[i];
  }
  return time_s(probability.size() - 1);
}

TimePosterior weigh_times(const LandingEvidence& evidence, const TouchdownPrior& prior) {
  TimePosterior posterior;
  posterior.first_s = evidence.earliest_s;
  posterior.step_s = k_time_step_s;
  const auto n = static_cast<std::size_t>((evidence.latest_s - evidence.earliest_s) / k_time_step_s) + 1;
  HeightModel height_model(evidence);
  SpeedModel speed_model(evidence, prior);
  PitchModel pitch_model(evidence);
  const auto& shapes = flare_shapes();
  Eigen::ArrayXd shape_prior(static_cast<Eigen::Index>(shapes.size()));
  Eigen::ArrayXd hold_off_s(shape_prior.size());
  for (std::size_t s = 0; s < shapes.size(); ++s) {
    shape_prior[static_cast<Eigen::Index>(s)] = shapes[s].log_prior;
    hold_off_s[static_cast<Eigen::Index>(s)] = shapes[s].hold_off_s;
  }
  std::vector<double> both(n), height_only(n), speed_only(n), hold_off(n);
  Eigen::VectorXd height, speed;
  Eigen::ArrayXd pitch;
  for (std::size_t i = 0; i < n; ++i) {
    height_model.log_likelihood(posterior.time_s(i), height);
    pitch_model.log_likelihood(posterior.time_s(i), pitch);
    speed_model.log_likelihood(posterior.time_s(i), pitch, speed);
    const Eigen::ArrayXd joint = shape_prior + height.array() + speed.array();
    both[i] = log_sum(joint);
    height_only[i] = log_sum(shape_prior + height.array());
    speed_only[i] = log_sum(shape_prior + speed.array());
    hold_off[i] = ((joint - both[i]).exp() * hold_off_s).sum();
  }
  posterior.probability = normalised(height_only);
  posterior.sd_from_height_s = posterior.sd();
  posterior.probability = normalised(speed_only);
  posterior.sd_from_speed_s = posterior.sd();
  posterior.probability = normalised(both);
  for (std::size_t i = 0; i < n; ++i) posterior.expected_hold_off_s += posterior.probability[i] * hold_off[i];
  return posterior;
}

}  // namespace glidewright::touchdown

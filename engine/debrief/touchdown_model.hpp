#pragma once
// Flare, float and rollout as a model with few unknowns, and how well it explains a landing's evidence.

#include <Eigen/Core>
#include <array>
#include <vector>

#include "engine/debrief/touchdown_evidence.hpp"
#include "engine/debrief/touchdown_priors.hpp"

namespace glidewright::touchdown {

/// How the airplane came to the ground: `hold_off_s` from the end of the flare to the wheels, after a flare
/// during which sink and deceleration change linearly.
struct FlareShape {
  double hold_off_s = 0.0;
  double flare_s = 0.0;
  double log_prior = 0.0;
};

/// All shapes that are tried, priors summing to 1.
const std::vector<FlareShape>& flare_shapes();

/// Log likelihood of one kind of evidence for a touchdown at a given time, one number a flare shape.
class HeightModel {
 public:
  explicit HeightModel(const LandingEvidence& evidence);
  void log_likelihood(double touchdown_s, Eigen::VectorXd& by_shape);

 private:
  void fill(double touchdown_s);
  double integrate(int shape_column, double hold_off_s) const;

  const LandingEvidence& evidence_;
  Eigen::MatrixXd device_covariance_, covariance_, columns_, products_;
};

/// Log likelihood of the recorded pitch for a touchdown at a given time, one number a derotation delay; zeros
/// without a panel.
class PitchModel {
 public:
  explicit PitchModel(const LandingEvidence& evidence);
  void log_likelihood(double touchdown_s, Eigen::ArrayXd& by_delay);

 private:
  void fill(double touchdown_s);
  double integrate(int held, int down, Normal on_wheels) const;

  const LandingEvidence& evidence_;
  Eigen::MatrixXd covariance_, columns_;
};

/// Ground speed at touchdown: a mixture of normal distributions, ft/s.
struct SpeedBelief {
  double weight = 1.0;
  double mean_fps = 0.0;
  double sd_fps = 1.0;
};
std::array<SpeedBelief, 2> touchdown_speed_belief(const TouchdownPrior& prior);
/// The prior's headwind and the one seen on short final, weighed by their precision.
TouchdownPrior with_seen_headwind(TouchdownPrior prior, const LandingEvidence& evidence);

class SpeedModel {
 public:
  SpeedModel(const LandingEvidence& evidence, const TouchdownPrior& prior);
  /// `pitch_by_delay`: what the pitch says of each derotation delay.
  void log_likelihood(double touchdown_s, const Eigen::ArrayXd& pitch_by_delay, Eigen::VectorXd& by_shape);

 private:
  void fill(double touchdown_s);
  void log_likelihood_at(double noise_kt_s, Eigen::Ref<Eigen::VectorXd> by_shape);
  void integrate(std::size_t derotation, std::size_t braking, Eigen::Index term);

  const LandingEvidence& evidence_;
  std::array<SpeedBelief, 2> belief_;
  Eigen::ArrayXXd delay_probability_;
  Eigen::ArrayXXd delay_weight_;  ///< with what the pitch says
  Eigen::MatrixXd device_covariance_, noise_covariance_, covariance_, columns_, whitened_, products_,
      by_level_;
  Eigen::MatrixXd same_shape_;           ///< approach squared, approach by float, float squared
  Eigen::MatrixXd exponents_, factors_;  ///< of each pair of delays and belief, by shape
};

}  // namespace glidewright::touchdown

#include "engine/calibration/glide_fit.hpp"

#include <Eigen/Cholesky>
#include <algorithm>
#include <cmath>

namespace glidewright {
namespace {

constexpr double k_wrong_share = 0.05;
constexpr double k_wrong_spread = 6.0;
/// How much the guessed noise of a reading counts against the glides' own scatter, in glides.
constexpr double k_noise_prior_glides = 6.0;
constexpr int k_rounds = 40;
constexpr double k_least_stall_margin = 1.1;  // nearer to it the knee is a guess
constexpr double k_overweight = 1.1;
constexpr double k_steepest_bank_deg = 50.0;

/// Residuals, their derivatives and noises at one state: the numbers, then two for each log.
class Glides {
 public:
  Glides(const GlideBelief& before, const std::vector<GlideLog>& logs) : before_(before), logs_(logs) {
    for (std::size_t log = 0; log < logs.size(); ++log) {
      for (std::size_t glide = 0; glide < logs[log].glides.size(); ++glide) places_.push_back({log, glide});
    }
  }

  Eigen::Index count() const { return static_cast<Eigen::Index>(places_.size()); }
  Eigen::Index numbers() const { return static_cast<Eigen::Index>(before_.numbers.size()); }
  Eigen::Index states() const { return numbers() + 2 * static_cast<Eigen::Index>(logs_.size()); }
  std::size_t log_of(Eigen::Index i) const { return places_[static_cast<std::size_t>(i)].log; }
  std::size_t glide_of(Eigen::Index i) const { return places_[static_cast<std::size_t>(i)].glide; }
  const LoggedGlide& glide(Eigen::Index i) const { return logs_[log_of(i)].glides[glide_of(i)]; }

  /// ln(logged / modelled) for every glide.
  Eigen::VectorXd residuals(const Eigen::VectorXd& state) const {
    const Polar polar = airplane_with(before_, state.head(numbers())).polar;
    Eigen::VectorXd all(count());
    for (Eigen::Index i = 0; i < count(); ++i) all[i] = residual(polar, state, i);
    return all;
  }

  /// Where a state moves nothing for a glide its entry is 0; steps are a hundredth of the prior's spread.
  Eigen::MatrixXd derivatives(const Eigen::VectorXd& state, const Eigen::VectorXd& spread) const {
    Eigen::MatrixXd jacobian(count(), states());
    for (Eigen::Index j = 0; j < states(); ++j) {
      Eigen::VectorXd more = state, less = state;
      more[j] += 0.01 * spread[j];
      less[j] -= 0.01 * spread[j];
      jacobian.col(j) = (residuals(more) - residuals(less)) / (0.02 * spread[j]);
    }
    return jacobian;
  }

  Eigen::VectorXd noise_variances(const Eigen::VectorXd& state) const {
    const Polar polar = airplane_with(before_, state.head(numbers())).polar;
    Eigen::VectorXd all(count());
    for (Eigen::Index i = 0; i < count(); ++i) all[i] = noise_variance(polar, glide(i));
    return all;
  }

 private:
  struct Place {
    std::size_t log, glide;
  };

  double residual(const Polar& polar, const Eigen::VectorXd& state, Eigen::Index i) const {
    const Eigen::Index shared = numbers() + 2 * static_cast<Eigen::Index>(log_of(i));
    const LoggedGlide& one = glide(i);
    const double airspeed = one.calibrated_airspeed_kt + state[shared];
    return std::log(logged_drag_over_weight(one, airspeed, state[shared + 1]) /
                    modelled_drag_over_weight(polar, one, airspeed));
  }

  double noise_variance(const Polar& polar, const LoggedGlide& one) const {
    const auto log_ratio = [&](const LoggedGlide& changed) {
      const double airspeed = changed.calibrated_airspeed_kt;
      return std::log(logged_drag_over_weight(changed, airspeed, 0.0) /
                      modelled_drag_over_weight(polar, changed, airspeed));
    };
    LoggedGlide faster = one, slower = one, heavier = one, lighter = one;
    faster.calibrated_airspeed_kt += 0.5;
    slower.calibrated_airspeed_kt -= 0.5;
    heavier.weight_lb *= 1.01;
    lighter.weight_lb *= 0.99;
    const double by_knot = log_ratio(faster) - log_ratio(slower);
    const double by_weight = (log_ratio(heavier) - log_ratio(lighter)) / 0.02;
    const auto squared = [](double x) { return x * x; };
    return squared(by_knot * one.airspeed_sd_kt) + squared(by_weight * one.weight_sd_relative) +
           squared(one.descent_sd_relative) + squared(before_.polar_misfit);
  }

  const GlideBelief& before_;
  const std::vector<GlideLog>& logs_;
  std::vector<Place> places_;
};

Eigen::VectorXd prior_mean(const GlideBelief& before, Eigen::Index states) {
  Eigen::VectorXd mean = Eigen::VectorXd::Zero(states);
  mean.head(static_cast<Eigen::Index>(before.numbers.size())) = before.mean();
  return mean;
}

Eigen::MatrixXd prior_covariance(const GlideBelief& before, const std::vector<GlideLog>& logs) {
  const auto numbers = static_cast<Eigen::Index>(before.numbers.size());
  const auto states = numbers + 2 * static_cast<Eigen::Index>(logs.size());
  Eigen::MatrixXd covariance = Eigen::MatrixXd::Zero(states, states);
  covariance.topLeftCorner(numbers, numbers) = before.covariance;
  for (Eigen::Index log = 0; 2 * log < states - numbers; ++log) {
    const auto& one = logs[static_cast<std::size_t>(log)];
    const Eigen::Index at = numbers + 2 * log;
    covariance(at, at) = one.airspeed_offset_sd_kt * one.airspeed_offset_sd_kt;
    covariance(at + 1, at + 1) = one.vertical_air_sd_fpm * one.vertical_air_sd_fpm;
  }
  return covariance;
}

/// Probability that a residual of `z` standard deviations is no wrong glide's.
double trust(double z) {
  const double right = (1.0 - k_wrong_share) * std::exp(-0.5 * z * z);
  const double wrong =
      k_wrong_share / k_wrong_spread * std::exp(-0.5 * z * z / (k_wrong_spread * k_wrong_spread));
  return right / (right + wrong);
}

double median(Eigen::VectorXd values) {
  std::nth_element(values.begin(), values.begin() + values.size() / 2, values.end());
  return values[values.size() / 2];
}

struct Estimation {
  Eigen::VectorXd state;
  Eigen::MatrixXd covariance;
  Eigen::VectorXd residuals;
  Eigen::VectorXd trusts;
  double noise_scale = 1.0;
  double degrees_of_freedom = k_noise_prior_glides;
};

/// Expectation-maximisation over which glides are wrong and how much the others scatter.
Estimation estimate(const Glides& glides, const Eigen::VectorXd& mean, const Eigen::MatrixXd& covariance) {
  const Eigen::VectorXd spread = covariance.diagonal().cwiseSqrt();
  const Eigen::MatrixXd prior_information =
      covariance.ldlt().solve(Eigen::MatrixXd::Identity(mean.size(), mean.size()));
  Estimation now{mean, covariance, glides.residuals(mean), Eigen::VectorXd::Ones(glides.count())};
  double used_by_fit = 0.0;
  for (int round = 0; round < k_rounds; ++round) {
    const Eigen::MatrixXd jacobian = glides.derivatives(now.state, spread);
    const Eigen::VectorXd variances = glides.noise_variances(now.state);
    const double scale_squared = now.noise_scale * now.noise_scale;
    const Eigen::VectorXd weights = now.trusts.cwiseQuotient(scale_squared * variances);
    const Eigen::MatrixXd data_information = jacobian.transpose() * weights.asDiagonal() * jacobian;
    now.covariance = (prior_information + data_information)
                         .ldlt()
                         .solve(Eigen::MatrixXd::Identity(mean.size(), mean.size()));
    const Eigen::VectorXd pull =
        prior_information * (mean - now.state) - jacobian.transpose() * weights.cwiseProduct(now.residuals);
    const Eigen::VectorXd step = now.covariance * pull;
    now.state += step;
    now.residuals = glides.residuals(now.state);
    used_by_fit = (now.covariance * data_information).trace();

    const Eigen::VectorXd squares = now.residuals.cwiseAbs2().cwiseQuotient(variances);
    if (round == 0) {
      // Half of all normal squares lie below 0.455: a first scale that wrong glides do not spoil.
      now.noise_scale = std::max(1.0, std::sqrt(median(squares) / 0.455));
    }
    for (Eigen::Index i = 0; i < glides.count(); ++i)
      now.trusts[i] = trust(std::sqrt(squares[i]) / now.noise_scale);
    now.degrees_of_freedom = k_noise_prior_glides + std::max(0.0, now.trusts.sum() - used_by_fit);
    now.noise_scale = std::sqrt((k_noise_prior_glides + now.trusts.dot(squares)) / now.degrees_of_freedom);
    if (round > 3 && step.cwiseQuotient(spread).cwiseAbs().maxCoeff() < 1e-6) break;
  }
  return now;
}

GlideBelief updated(const GlideBelief& before, const Estimation& estimation) {
  GlideBelief after = before;
  const auto numbers = static_cast<Eigen::Index>(before.numbers.size());
  after.covariance = estimation.covariance.topLeftCorner(numbers, numbers);
  for (Eigen::Index i = 0; i < numbers; ++i) {
    auto& number = after.numbers[static_cast<std::size_t>(i)];
    number.value = estimation.state[i];
    number.sd = std::sqrt(after.covariance(i, i));
  }
  after.polar_misfit = before.polar_misfit * estimation.noise_scale;
  after.degrees_of_freedom = estimation.degrees_of_freedom;
  return after;
}

}  // namespace

std::string why_not_used(const Airplane& airplane, const LoggedGlide& glide) {
  if (std::abs(glide.bank_deg) > k_steepest_bank_deg) return "banked steeper than 50°";
  const double maximum_lb = airplane.handbook.maximum_weight_lb.value;
  if (glide.weight_lb > k_overweight * maximum_lb) return "heavier than the maximum weight by a tenth";
  if (stall_margin(airplane.polar, glide) < k_least_stall_margin) return "nearer than 1.1 to the stall";
  for (const auto& flap : airplane.handbook.flaps) {
    const bool this_far_out = glide.flap_deg > 0.0 && flap.setting_deg >= glide.flap_deg - 0.5;
    if (!this_far_out) continue;
    return glide.calibrated_airspeed_kt > flap.maximum_speed_kcas ? "faster than the flap's limit" : "";
  }
  return glide.flap_deg > airplane.handbook.flaps.back().setting_deg + 0.5
             ? "more flap than the profile's settings"
             : "";
}

GlideFit fit_glides(const GlideBelief& before, const std::vector<GlideLog>& logs) {
  const Glides glides(before, logs);
  GlideFit fit{before, before, 1.0, {}, {}, prior_covariance(before, logs)};
  if (glides.count() == 0) {
    for (const auto& log : logs)
      fit.offsets.push_back({0.0, log.airspeed_offset_sd_kt, 0.0, log.vertical_air_sd_fpm});
    return fit;
  }
  const Estimation found = estimate(glides, prior_mean(before, glides.states()), fit.joint_covariance);
  fit.after = updated(before, found);
  fit.noise_scale = found.noise_scale;
  fit.joint_covariance = found.covariance;
  for (Eigen::Index i = 0; i < glides.count(); ++i) {
    fit.residuals.push_back(
        {glides.log_of(i), glides.glide_of(i), std::exp(found.residuals[i]) - 1.0, found.trusts[i]});
  }
  for (Eigen::Index at = glides.numbers(); at < glides.states(); at += 2) {
    fit.offsets.push_back({found.state[at], std::sqrt(found.covariance(at, at)), found.state[at + 1],
                           std::sqrt(found.covariance(at + 1, at + 1))});
  }
  return fit;
}

}  // namespace glidewright

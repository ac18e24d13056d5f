#pragma once
// Airplanes drawn from a belief, and the glides that a pilot would log with them.

#include <Eigen/Cholesky>
#include <random>

#include "engine/calibration/glide_fit.hpp"

namespace glidewright::test {

/// One airplane out of many that the belief holds possible.
inline Eigen::VectorXd drawn_numbers(const GlideBelief& belief, std::mt19937& random) {
  std::normal_distribution<double> normal;
  Eigen::VectorXd luck(static_cast<Eigen::Index>(belief.numbers.size()));
  for (auto& one : luck) one = normal(random);
  const Eigen::MatrixXd root = belief.covariance.llt().matrixL();
  return belief.mean() + root * luck;
}

struct LogRecipe {
  int glides = 20;
  double wrong_share = 0.0;  ///< glides with `wrong_drag` more drag than they have
  double wrong_drag = 0.25;
  double reading_errors = 1.0;  ///< times what the glides say of themselves
  double shared_errors = 1.0;
  bool turning = false;
};

/// What the airplane would show, with the errors that the log admits to. Shares no arithmetic with the fit
/// but the polar itself: the truth is solved for here.
inline GlideLog logged(const Airplane& airplane, const LogRecipe& recipe, std::mt19937& random) {
  std::normal_distribution<double> normal;
  std::uniform_real_distribution<double> even(0.0, 1.0);
  GlideLog log;
  log.file = "simulated.csv";
  const double offset_kt = recipe.shared_errors * log.airspeed_offset_sd_kt * normal(random);
  const double air_fpm = recipe.shared_errors * log.vertical_air_sd_fpm * normal(random);
  const auto& flaps = airplane.handbook.flaps;
  for (int i = 0; i < recipe.glides; ++i) {
    LoggedGlide truth;
    truth.flap_deg = flaps[static_cast<std::size_t>(i) % flaps.size()].setting_deg;
    truth.calibrated_airspeed_kt = 62.0 + 18.0 * even(random);
    truth.weight_lb = (0.8 + 0.2 * even(random)) * airplane.handbook.maximum_weight_lb.value;
    truth.density_ratio = 0.8 + 0.2 * even(random);
    truth.bank_deg = recipe.turning && i % 2 == 0 ? 30.0 : 0.0;
    const double bank = truth.bank_deg * k_radians_per_degree;
    double angle = 0.1;
    for (int round = 0; round < 50; ++round) {
      angle = std::asin(airplane.polar.drag_over_weight(truth.calibrated_airspeed_kt, truth.weight_lb,
                                                        truth.flap_deg, 0.0, std::cos(angle) / std::cos(bank),
                                                        1.0));
    }
    const bool wrong = even(random) < recipe.wrong_share;
    const double true_fpm =
        60.0 * k_fps_per_knot * truth.calibrated_airspeed_kt / std::sqrt(truth.density_ratio);
    LoggedGlide read = truth;
    const double e = recipe.reading_errors;
    read.calibrated_airspeed_kt += e * read.airspeed_sd_kt * normal(random) - offset_kt;
    read.weight_lb *= 1.0 + e * read.weight_sd_relative * normal(random);
    const double misfit = e * 0.02 * normal(random);
    read.sink_fpm = true_fpm * std::sin(angle) * (wrong ? 1.0 + recipe.wrong_drag : 1.0) *
                        (1.0 + misfit + e * read.descent_sd_relative * normal(random)) +
                    air_fpm;
    log.glides.push_back(read);
  }
  return log;
}

}  // namespace glidewright::test

#include "engine/calibration/glide_estimates.hpp"

#include <algorithm>
#include <cmath>
#include <functional>

namespace glidewright {
namespace {

using Quantity = std::function<double(const Airplane&)>;

/// Derivative by each number, by central differences a hundredth of its spread wide.
Eigen::VectorXd gradient(const GlideBelief& belief, const Quantity& quantity) {
  const Eigen::VectorXd at = belief.mean();
  Eigen::VectorXd slopes(at.size());
  for (Eigen::Index i = 0; i < at.size(); ++i) {
    const double step = 0.05 * belief.numbers[static_cast<std::size_t>(i)].sd;
    Eigen::VectorXd more = at, less = at;
    more[i] += step;
    less[i] -= step;
    slopes[i] =
        (quantity(airplane_with(belief, more)) - quantity(airplane_with(belief, less))) / (2.0 * step);
  }
  return slopes;
}

double sd_of(const GlideBelief& belief, const Quantity& quantity) {
  const Eigen::VectorXd slopes = gradient(belief, quantity);
  return std::sqrt(slopes.dot(belief.covariance * slopes));
}

/// 97.5 % point of Student's t: Cornish and Fisher's expansion, within 0.5 % from 5 degrees of freedom on.
/// Source: Abramowitz and Stegun, Handbook of Mathematical Functions, 26.7.5.
double student_factor(double degrees_of_freedom) {
  constexpr double z = 1.959964;
  const double n = degrees_of_freedom;
  const double z3 = z * z * z, z5 = z3 * z * z;
  return z + (z3 + z) / (4.0 * n) + (5.0 * z5 + 16.0 * z3 + 3.0 * z) / (96.0 * n * n);
}

/// Where one glide in twenty is wrong six times as far, 95 in 100 lie within 2.40 standard deviations of the
/// others: 0.95 x 2 Q(2.40) + 0.05 x 2 Q(0.40) = 0.05.
constexpr double k_with_wrong_glides = 2.40 / 1.96;

/// Interval of a positive quantity whose logarithm has this spread.
Estimate relative_interval(double value, double sd_relative, double degrees_of_freedom) {
  const double factor = std::exp(student_factor(degrees_of_freedom) * sd_relative);
  return {value, value / factor, value * factor};
}

/// A quantity that goes with drag: the polar's misfit widens it.
Estimate drag_estimate(const GlideBelief& belief, const Quantity& quantity) {
  const double sd = sd_of(belief, [&](const Airplane& airplane) { return std::log(quantity(airplane)); });
  return relative_interval(quantity(airplane_with(belief, belief.mean())),
                           std::hypot(sd, belief.polar_misfit), belief.degrees_of_freedom);
}

double glide_drag(const Airplane& airplane, double speed_kcas, double flap_deg) {
  return airplane.polar.drag_over_weight(speed_kcas, airplane.polar.reference_weight_lb, flap_deg, 0.0, 1.0,
                                         1.0);
}

}  // namespace

Estimate best_glide_ratio(const GlideBelief& belief) {
  return drag_estimate(belief, [](const Airplane& airplane) {
    const Pounds weight{airplane.polar.reference_weight_lb};
    const Knots speed = best_glide_speed(airplane.polar, weight, Degrees{0.0});
    return steady_glide(airplane.polar, speed, weight, Degrees{0.0}, 0.0, 1.0).glide_ratio;
  });
}

Estimate flattest_glide_speed_kcas(const GlideBelief& belief, Pounds weight) {
  const auto speed = [&](const Airplane& airplane) {
    return best_glide_speed(airplane.polar, weight, Degrees{0.0}).value;
  };
  const double value = speed(airplane_with(belief, belief.mean()));
  const double reach = student_factor(belief.degrees_of_freedom) * sd_of(belief, speed);
  return {value, value - reach, value + reach};
}

Estimate sink_fpm(const GlideBelief& belief, Knots calibrated_airspeed, Pounds weight, Degrees flap) {
  return drag_estimate(belief, [&](const Airplane& airplane) {
    return steady_glide(airplane.polar, calibrated_airspeed, weight, flap, 0.0, 1.0).sink_fpm;
  });
}

double drag_sd(const GlideBelief& belief) {
  const auto& book = belief.handbook;
  const auto relative = [&](double speed_kcas, double flap_deg) {
    return sd_of(belief, [&](const Airplane& airplane) {
      return std::log(glide_drag(airplane, speed_kcas, flap_deg));
    });
  };
  const double worst = std::max(relative(book.best_glide_speed_kcas.value, 0.0),
                                relative(book.approach_speed_kcas.value, book.landing_flap_deg));
  return std::hypot(worst, belief.polar_misfit);
}

Estimate logged_drag_relative(const GlideFit& fit, const LoggedGlide& glide, std::size_t log) {
  // One more glide of the same log, seen through the same linear model as those that were fitted.
  const LogOffset& offset = fit.offsets.at(log);
  const auto numbers = static_cast<Eigen::Index>(fit.after.numbers.size());
  const Eigen::Index shared = numbers + 2 * static_cast<Eigen::Index>(log);
  const auto residual = [&](const Airplane& airplane, double airspeed_kt, double air_fpm) {
    const double airspeed = glide.calibrated_airspeed_kt + airspeed_kt;
    return std::log(logged_drag_over_weight(glide, airspeed, air_fpm) /
                    modelled_drag_over_weight(airplane.polar, glide, airspeed));
  };
  const Airplane mean = airplane_with(fit.after, fit.after.mean());
  Eigen::VectorXd slopes = Eigen::VectorXd::Zero(fit.joint_covariance.rows());
  slopes.head(numbers) = gradient(fit.after, [&](const Airplane& airplane) {
    return residual(airplane, offset.airspeed_kt, offset.vertical_air_fpm);
  });
  slopes[shared] = residual(mean, offset.airspeed_kt + 0.5, offset.vertical_air_fpm) -
                   residual(mean, offset.airspeed_kt - 0.5, offset.vertical_air_fpm);
  slopes[shared + 1] = residual(mean, offset.airspeed_kt, offset.vertical_air_fpm + 0.5) -
                       residual(mean, offset.airspeed_kt, offset.vertical_air_fpm - 0.5);
  const double by_airspeed = slopes[shared] * glide.airspeed_sd_kt;
  LoggedGlide heavier = glide;
  heavier.weight_lb *= 1.01;
  const double by_weight =
      100.0 * glide.weight_sd_relative *
      std::log(modelled_drag_over_weight(mean.polar, heavier, glide.calibrated_airspeed_kt) /
               modelled_drag_over_weight(mean.polar, glide, glide.calibrated_airspeed_kt));
  const double own =
      fit.noise_scale * std::hypot(std::hypot(by_airspeed, by_weight),
                                   std::hypot(glide.descent_sd_relative, fit.before.polar_misfit));
  const double sd = std::hypot(own, std::sqrt(slopes.dot(fit.joint_covariance * slopes)));
  // Logged over modelled, both as logged: what the log's glides share stands in the value.
  const double plain = residual(mean, 0.0, 0.0);
  const double value = plain - residual(mean, offset.airspeed_kt, offset.vertical_air_fpm);
  const double reach = k_with_wrong_glides * student_factor(fit.after.degrees_of_freedom) * sd;
  return {std::expm1(value), std::expm1(value - reach), std::expm1(value + reach)};
}

}  // namespace glidewright

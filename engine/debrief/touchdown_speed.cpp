// Speed evidence: nearly constant on the approach, losing speed through flare and float, a little less once
// the nose is down, more with brakes. Contact itself does not show; the delays behind it do.

#include <Eigen/Cholesky>
#include <algorithm>
#include <cmath>

#include "engine/debrief/touchdown_model.hpp"
#include "engine/debrief/touchdown_priors.hpp"

namespace glidewright::touchdown {
namespace {

enum Column { k_speed, k_touchdown_speed, k_first_derotation };
constexpr int k_first_braking = k_first_derotation + static_cast<int>(k_derotation_delay_s.size());
constexpr int k_first_approach = k_first_braking + static_cast<int>(k_braking_delay_s.size());
constexpr int k_shapes = static_cast<int>(k_hold_off_s.size() * k_flare_s.size());
constexpr int k_first_float = k_first_approach + k_shapes;
constexpr int k_columns = k_first_float + k_shapes;

/// Second integral of a ramp that goes from 0 to 1 between 0 and `length_s`, from 0 to x.
double ramp_twice_integrated(double x, double length_s) {
  if (x <= 0.0) return 0.0;
  if (x < length_s) return x * x * x / (6.0 * length_s);
  const double past = x - length_s;
  return length_s * length_s / 6.0 + past * length_s / 2.0 + past * past / 2.0;
}

/// Distances run, seen from touchdown, through one unit of deceleration: the one on the approach, which fades
/// out over the flare, and the one of the float, which takes its place and lasts into the rollout. Negative
/// time is before touchdown.
double approach_distance(const FlareShape& shape, double after_s) {
  return -ramp_twice_integrated(-after_s - shape.hold_off_s, shape.flare_s);
}
double float_distance(const FlareShape& shape, double after_s) {
  return -0.5 * after_s * after_s - approach_distance(shape, after_s);
}

double mean_speed(double distance_from, double distance_to, const SpeedReading& reading) {
  return (distance_to - distance_from) / (reading.to_s - reading.from_s);
}

/// Covariance of the integral of a short-memory noise of unit sd, zero at touchdown, both times on the same
/// side.
double integrated_noise(double a_s, double b_s) {
  const double early = std::min(a_s, b_s), late = std::max(a_s, b_s), memory = k_deceleration_noise_memory_s;
  return memory * (2.0 * early - memory * (1.0 - std::exp(-early / memory) - std::exp(-late / memory) +
                                           std::exp((early - late) / memory)));
}

/// Of each pair of delays, derotation by braking.
Eigen::ArrayXXd delay_probability() {
  const auto derotation = choices(k_derotation_delay_s, k_derotation_delay_belief);
  const auto braking = choices(k_braking_delay_s, k_braking_delay_belief);
  Eigen::ArrayXXd pairs(derotation.value.size(), braking.value.size());
  for (std::size_t i = 0; i < derotation.value.size(); ++i)
    for (std::size_t j = 0; j < braking.value.size(); ++j) {
      const bool never = j + 1 == braking.value.size();
      pairs(i, j) = std::exp(derotation.log_probability[i]) *
                    (never ? k_never_braked : (1.0 - k_never_braked) * std::exp(braking.log_probability[j]));
    }
  return pairs;
}

Eigen::MatrixXd device_covariance(const LandingEvidence& evidence) {
  const auto n = static_cast<Eigen::Index>(evidence.speeds.size());
  Eigen::MatrixXd covariance(n, n);
  const double white = evidence.place_white_sd_ft * evidence.place_white_sd_ft;
  const double wander_ft = evidence.place_wander.sd_ft;
  const double memory_s = evidence.place_wander.correlation_s;
  const auto place = [&](double a, double b) {
    return wander_ft * wander_ft * std::exp(-std::abs(a - b) / memory_s) + (a == b ? white : 0.0);
  };
  for (Eigen::Index i = 0; i < n; ++i)
    for (Eigen::Index j = 0; j < n; ++j) {
      const SpeedReading &a = evidence.speeds[i], &b = evidence.speeds[j];
      if (evidence.speed_source == SpeedSource::recorded_groundspeed) {
        covariance(i, j) = i == j ? evidence.speed_white_sd_fps * evidence.speed_white_sd_fps : 0.0;
        continue;
      }
      covariance(i, j) = (place(a.to_s, b.to_s) - place(a.to_s, b.from_s) - place(a.from_s, b.to_s) +
                          place(a.from_s, b.from_s)) /
                         ((a.to_s - a.from_s) * (b.to_s - b.from_s));
    }
  return covariance;
}

}  // namespace

SpeedModel::SpeedModel(const LandingEvidence& evidence, const TouchdownPrior& prior)
    : evidence_(evidence),
      belief_(touchdown_speed_belief(with_seen_headwind(prior, evidence))),
      delay_probability_(delay_probability()),
      device_covariance_(device_covariance(evidence)) {
  columns_.resize(static_cast<Eigen::Index>(evidence.speeds.size()), k_columns);
  exponents_.resize(delay_probability_.size() * static_cast<Eigen::Index>(belief_.size()), k_shapes);
  factors_.resize(exponents_.rows(), k_shapes);
}

void SpeedModel::fill(double touchdown_s) {
  const auto n = static_cast<Eigen::Index>(evidence_.speeds.size());
  const auto& shapes = flare_shapes();
  noise_covariance_.setZero(n, n);
  for (Eigen::Index i = 0; i < n; ++i) {
    const SpeedReading& reading = evidence_.speeds[i];
    const double from = reading.from_s - touchdown_s, to = reading.to_s - touchdown_s;
    columns_(i, k_speed) = reading.mean_fps;
    columns_(i, k_touchdown_speed) = 1.0;
    for (std::size_t d = 0; d < k_derotation_delay_s.size(); ++d)
      columns_(i, k_first_derotation + static_cast<Eigen::Index>(d)) =
          k_fps_per_knot * mean_speed(ramp_twice_integrated(from - k_derotation_delay_s[d], k_derotation_s),
                                      ramp_twice_integrated(to - k_derotation_delay_s[d], k_derotation_s),
                                      reading);
    for (std::size_t b = 0; b < k_braking_delay_s.size(); ++b)
      columns_(i, k_first_braking + static_cast<Eigen::Index>(b)) =
          -k_fps_per_knot * mean_speed(ramp_twice_integrated(from - k_braking_delay_s[b], k_braking_onset_s),
                                       ramp_twice_integrated(to - k_braking_delay_s[b], k_braking_onset_s),
                                       reading);
    for (std::size_t s = 0; s < shapes.size(); ++s) {
      const auto k = static_cast<Eigen::Index>(s);
      columns_(i, k_first_approach + k) =
          k_fps_per_knot *
          mean_speed(approach_distance(shapes[s], from), approach_distance(shapes[s], to), reading);
      columns_(i, k_first_float + k) = k_fps_per_knot * mean_speed(float_distance(shapes[s], from),
                                                                   float_distance(shapes[s], to), reading);
    }
    const double middle = reading.middle_s() - touchdown_s;
    for (Eigen::Index j = 0; j <= i; ++j) {
      const double other = evidence_.speeds[j].middle_s() - touchdown_s;
      if (middle * other <= 0.0) continue;
      const double c = integrated_noise(std::abs(middle), std::abs(other));
      noise_covariance_(i, j) = noise_covariance_(j, i) = c;
    }
  }
}

void SpeedModel::log_likelihood(double touchdown_s, const Eigen::ArrayXd& pitch_by_delay,
                                Eigen::VectorXd& by_shape) {
  const auto shapes = static_cast<Eigen::Index>(flare_shapes().size());
  const double pitch = pitch_by_delay.maxCoeff();
  delay_weight_ = delay_probability_.colwise() * (pitch_by_delay - pitch).exp();
  by_shape.setConstant(shapes, pitch + std::log(delay_weight_.sum()));
  if (evidence_.speeds.empty()) return;
  fill(touchdown_s);
  by_level_.resize(shapes, static_cast<Eigen::Index>(k_deceleration_noise_kt_s.size()));
  for (Eigen::Index level = 0; level < by_level_.cols(); ++level)
    log_likelihood_at(k_deceleration_noise_kt_s[static_cast<std::size_t>(level)], by_level_.col(level));
  const Eigen::VectorXd greatest = by_level_.rowwise().maxCoeff();
  by_shape = pitch + greatest.array() + (by_level_.colwise() - greatest).array().exp().rowwise().mean().log();
}

/// In still air the deceleration is smooth, in gusts it is not: the log itself tells which.
void SpeedModel::log_likelihood_at(double noise_kt_s, Eigen::Ref<Eigen::VectorXd> by_shape) {
  const double noise_fps2 = noise_kt_s * k_fps_per_knot;
  covariance_ = device_covariance_ + noise_fps2 * noise_fps2 * noise_covariance_;
  const Eigen::LLT<Eigen::Ref<Eigen::MatrixXd>> factor(covariance_);
  whitened_ = columns_;
  factor.matrixL().solveInPlace(whitened_);
  const double log_det = 2.0 * covariance_.diagonal().array().log().sum();
  products_.noalias() = whitened_.transpose() * whitened_.leftCols<k_first_approach>();
  const auto approach = whitened_.middleCols<k_shapes>(k_first_approach);
  const auto floating = whitened_.middleCols<k_shapes>(k_first_float);
  same_shape_.resize(k_shapes, 3);
  same_shape_ << approach.colwise().squaredNorm().transpose(),
      approach.cwiseProduct(floating).colwise().sum().transpose(),
      floating.colwise().squaredNorm().transpose();
  Eigen::Index term = 0;
  for (std::size_t i = 0; i < k_derotation_delay_s.size(); ++i)
    for (std::size_t j = 0; j < k_braking_delay_s.size(); ++j, term += belief_.size()) integrate(i, j, term);
  const Eigen::RowVectorXd greatest = exponents_.colwise().maxCoeff();
  const auto relative = (exponents_.rowwise() - greatest).array().exp();
  by_shape = greatest.transpose().array() + (factors_.array() * relative).colwise().sum().transpose().log() -
             0.5 * (products_(k_speed, k_speed) + log_det);
}

/// For one pair of delays, all shapes at once: relief, braking, the decelerations of approach and float and
/// the touchdown speed are eliminated one after the other from the normal equations (speed last: its prior is
/// a mixture).
void SpeedModel::integrate(std::size_t derotation, std::size_t braking, Eigen::Index term) {
  using Shapes = Eigen::Array<double, k_shapes, 1>;
  const auto& g = products_;
  const int d = k_first_derotation + static_cast<int>(derotation);
  const int b = k_first_braking + static_cast<int>(braking);
  constexpr int v = k_touchdown_speed, y = k_speed;
  const auto precision = [](Normal n) { return 1.0 / (n.sd * n.sd); };
  const double approach_precision = precision(k_approach_deceleration_kt_s);
  const double float_precision = precision(k_float_deceleration_kt_s);

  // Relief and braking whitened; what they explain of a product of two columns is a sum of two products.
  const double dd = g(d, d) + precision(k_derotation_relief_kt_s), coupling = g(d, b) / dd;
  const double bb = g(b, b) + precision(k_braking_kt_s) - coupling * g(d, b);
  const double per_d = 1.0 / std::sqrt(dd), per_b = 1.0 / std::sqrt(bb);
  const double yd = g(y, d) + precision(k_derotation_relief_kt_s) * k_derotation_relief_kt_s.mean;
  const double yb = g(y, b) + precision(k_braking_kt_s) * k_braking_kt_s.mean;
  const double y1 = yd * per_d, y2 = (yb - coupling * yd) * per_b;
  const double v1 = g(v, d) * per_d, v2 = (g(v, b) - coupling * g(v, d)) * per_b;
  const auto column = [&](int first, int with) { return g.col(with).segment<k_shapes>(first).array(); };
  const auto first_part = [&](int first) -> Shapes { return column(first, d) * per_d; };
  const auto second_part = [&](int first) -> Shapes {
    return (column(first, b) - coupling * column(first, d)) * per_b;
  };
  const Shapes a1 = first_part(k_first_approach), a2 = second_part(k_first_approach);
  const Shapes f1 = first_part(k_first_float), f2 = second_part(k_first_float);

  const Shapes aa = same_shape_.col(0).array() - a1.square() - a2.square() + approach_precision;
  const Shapes av = column(k_first_approach, v) - a1 * v1 - a2 * v2;
  const Shapes ay = column(k_first_approach, y) - a1 * y1 - a2 * y2 +
                    approach_precision * k_approach_deceleration_kt_s.mean;
  const Shapes af = same_shape_.col(1).array() - a1 * f1 - a2 * f2;
  const Shapes ratio = af / aa;
  const Shapes ff = same_shape_.col(2).array() - f1.square() - f2.square() + float_precision - af * ratio;
  const Shapes fv = column(k_first_float, v) - f1 * v1 - f2 * v2 - ratio * av;
  const Shapes fy = column(k_first_float, y) - f1 * y1 - f2 * y2 +
                    float_precision * k_float_deceleration_kt_s.mean - ratio * ay;
  const Shapes vv = g(v, v) - v1 * v1 - v2 * v2 - av.square() / aa - fv.square() / ff;
  const Shapes vy = g(v, y) - v1 * y1 - v2 * y2 - av * ay / aa - fv * fy / ff;
  const Shapes fit = y1 * y1 + y2 * y2 + ay.square() / aa + fy.square() / ff;
  const Shapes determinant = dd * bb * aa * ff;
  for (const SpeedBelief& belief : belief_) {
    const double belief_precision = 1.0 / (belief.sd_fps * belief.sd_fps);
    const Shapes curvature = vv + belief_precision;
    exponents_.row(term) = 0.5 * (fit + (vy + belief.mean_fps * belief_precision).square() / curvature -
                                  belief.mean_fps * belief.mean_fps * belief_precision);
    // No logarithm a term: priors and determinants stay factors.
    factors_.row(term++) = delay_weight_(derotation, braking) * belief.weight / belief.sd_fps *
                           (determinant * curvature).rsqrt();
  }
}

}  // namespace glidewright::touchdown

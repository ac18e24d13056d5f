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

/// Covariance of the integral of a short-memory noise, zero at touchdown, both times on the same side.
double integrated_noise(double a_s, double b_s) {
  const double early = std::min(a_s, b_s), late = std::max(a_s, b_s), memory = k_deceleration_noise_memory_s;
  const double sd = k_deceleration_noise_kt_s * k_fps_per_knot;
  return sd * sd * memory *
         (2.0 * early - memory * (1.0 - std::exp(-early / memory) - std::exp(-late / memory) +
                                  std::exp((early - late) / memory)));
}

struct BrakingChoices {
  std::array<double, k_braking_delay_s.size()> log_probability{};
};
const BrakingChoices& braking_choices() {
  static const BrakingChoices all = [] {
    const auto delays = choices(k_braking_delay_s, k_braking_delay_belief);
    BrakingChoices b;
    for (std::size_t i = 0; i + 1 < k_braking_delay_s.size(); ++i)
      b.log_probability[i] = delays.log_probability[i] + std::log(1.0 - k_never_braked);
    b.log_probability.back() = std::log(k_never_braked);
    return b;
  }();
  return all;
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
      belief_(touchdown_speed_belief(prior)),
      device_covariance_(device_covariance(evidence)) {
  columns_.resize(static_cast<Eigen::Index>(evidence.speeds.size()), k_columns);
  terms_.reserve(k_derotation_delay_s.size() * k_braking_delay_s.size() * belief_.size());
}

void SpeedModel::fill(double touchdown_s) {
  const auto n = static_cast<Eigen::Index>(evidence_.speeds.size());
  const auto& shapes = flare_shapes();
  covariance_ = device_covariance_;
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
      covariance_(i, j) += c;
      if (j != i) covariance_(j, i) += c;
    }
  }
}

void SpeedModel::log_likelihood(double touchdown_s, Eigen::VectorXd& by_shape) {
  const auto shapes = static_cast<Eigen::Index>(flare_shapes().size());
  by_shape.setZero(shapes);
  if (evidence_.speeds.empty()) return;
  fill(touchdown_s);
  const Eigen::LLT<Eigen::Ref<Eigen::MatrixXd>> factor(covariance_);
  factor.matrixL().solveInPlace(columns_);
  const double log_det = 2.0 * covariance_.diagonal().array().log().sum();
  products_.noalias() = columns_.transpose() * columns_;
  for (Eigen::Index s = 0; s < shapes; ++s)
    by_shape[s] = integrate(static_cast<int>(s)) - 0.5 * (products_(k_speed, k_speed) + log_det);
}

/// For each pair of delays: relief, braking, the decelerations of approach and float and the touchdown speed
/// are eliminated one after the other from the normal equations (speed last: its prior is a mixture). Then
/// the pairs are summed.
double SpeedModel::integrate(int shape) {
  static const auto derotation = choices(k_derotation_delay_s, k_derotation_delay_belief);
  const auto& g = products_;
  const auto precision = [](Normal n) { return 1.0 / (n.sd * n.sd); };
  const double relief_precision = precision(k_derotation_relief_kt_s),
               brake_precision = precision(k_braking_kt_s),
               approach_precision = precision(k_approach_deceleration_kt_s),
               float_precision = precision(k_float_deceleration_kt_s);
  const int a = k_first_approach + shape, f = k_first_float + shape;
  constexpr int v = k_touchdown_speed, y = k_speed;
  terms_.clear();
  for (std::size_t i = 0; i < k_derotation_delay_s.size(); ++i)
    for (std::size_t j = 0; j < k_braking_delay_s.size(); ++j) {
      const int d = k_first_derotation + static_cast<int>(i), b = k_first_braking + static_cast<int>(j);
      const double dd = g(d, d) + relief_precision, db = g(d, b), bb = g(b, b) + brake_precision;
      const double det = dd * bb - db * db;
      const double yd = g(d, y) + relief_precision * k_derotation_relief_kt_s.mean;
      const double yb = g(b, y) + brake_precision * k_braking_kt_s.mean;
      // What the pair of unknowns explains of a product of two other columns.
      const auto explained = [&](double pd, double pb, double qd, double qb) {
        return (bb * pd * qd - db * (pd * qb + pb * qd) + dd * pb * qb) / det;
      };
      const auto left = [&](int p, int q) { return g(p, q) - explained(g(p, d), g(p, b), g(q, d), g(q, b)); };
      const auto left_of_speed = [&](int p) { return g(p, y) - explained(g(p, d), g(p, b), yd, yb); };
      const double aa = left(a, a) + approach_precision;
      const double af = left(a, f), av = left(a, v);
      const double ay = left_of_speed(a) + approach_precision * k_approach_deceleration_kt_s.mean;
      const double ff = left(f, f) + float_precision - af * af / aa;
      const double fv = left(f, v) - af * av / aa;
      const double fy = left_of_speed(f) + float_precision * k_float_deceleration_kt_s.mean - af * ay / aa;
      const double vv = left(v, v) - av * av / aa - fv * fv / ff;
      const double vy = left_of_speed(v) - av * ay / aa - fv * fy / ff;
      const double quadratic = explained(yd, yb, yd, yb) + ay * ay / aa + fy * fy / ff;
      const double log_prior = derotation.log_probability[i] + braking_choices().log_probability[j];
      for (const SpeedBelief& belief : belief_) {
        const double variance = belief.sd_fps * belief.sd_fps;
        const double total = vy + belief.mean_fps / variance;
        const double fit =
            quadratic + total * total / (vv + 1.0 / variance) - belief.mean_fps * belief.mean_fps / variance;
        terms_.push_back(log_prior + std::log(belief.weight) +
                         0.5 * (fit - std::log(det * aa * ff * (1.0 + variance * vv))));
      }
    }
  const double greatest = *std::max_element(terms_.begin(), terms_.end());
  double sum = 0.0;
  for (const double term : terms_) sum += std::exp(term - greatest);
  return greatest + std::log(sum);
}

}  // namespace glidewright::touchdown

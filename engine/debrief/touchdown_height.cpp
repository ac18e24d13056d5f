// Height evidence: a straight descent, a flare, a hold-off with little sink, a settle, then the ground.

#include <Eigen/Cholesky>
#include <algorithm>
#include <cmath>

#include "engine/debrief/touchdown_model.hpp"
#include "engine/debrief/touchdown_priors.hpp"

namespace glidewright::touchdown {
namespace {

/// Covariance of the height lost between two moments before the wheels through sink that is not as modelled:
/// the double integral of sd(a) sd(b) exp(-|a - b| / memory), tabulated once.
class SinkNoise {
 public:
  SinkNoise() : table_(Eigen::MatrixXd::Zero(k_cells + 1, k_cells + 1)) {
    for (int i = 1; i <= k_cells; ++i)
      for (int j = 1; j <= k_cells; ++j)
        table_(i, j) = table_(i - 1, j) + table_(i, j - 1) - table_(i - 1, j - 1) + cell(i, j);
  }
  double covariance(double before_a_s, double before_b_s) const {
    const double a = std::clamp(before_a_s / k_step_s, 0.0, k_cells - 1e-9);
    const double b = std::clamp(before_b_s / k_step_s, 0.0, k_cells - 1e-9);
    const int i = static_cast<int>(a), j = static_cast<int>(b);
    const double p = a - i, q = b - j;
    return (1 - p) * ((1 - q) * table_(i, j) + q * table_(i, j + 1)) +
           p * ((1 - q) * table_(i + 1, j) + q * table_(i + 1, j + 1));
  }

 private:
  static constexpr int k_cells = 120;
  static constexpr double k_step_s = 0.5;

  static double cell(int i, int j) {
    const double a = (i - 0.5) * k_step_s, b = (j - 0.5) * k_step_s;
    const auto sd = [](double u) { return k_sink_noise_fps + k_sink_noise_growth_fps2 * u; };
    return sd(a) * sd(b) * std::exp(-std::abs(a - b) / k_sink_noise_memory_s) * k_step_s * k_step_s;
  }
  Eigen::MatrixXd table_;
};

const SinkNoise& sink_noise() {
  static const SinkNoise noise;
  return noise;
}

/// Height lost, per unit of approach sink, by a sink that fades out over the flare and is zero in the
/// hold-off.
double flare_height_s(const FlareShape& shape, double before_s) {
  const double x = before_s - shape.hold_off_s;
  if (x <= 0.0) return 0.0;
  return x < shape.flare_s ? x * x / (2.0 * shape.flare_s) : x - 0.5 * shape.flare_s;
}

enum Column { k_height, k_offset, k_settle, k_contact, k_first_shape };

}  // namespace

HeightModel::HeightModel(const LandingEvidence& evidence) : evidence_(evidence) {
  const auto n = static_cast<Eigen::Index>(evidence.heights.size());
  device_covariance_.resize(n, n);
  const auto [wander_ft, memory_s] = evidence.height_wander;
  for (Eigen::Index i = 0; i < n; ++i)
    for (Eigen::Index j = 0; j < n; ++j) {
      const HeightReading &a = evidence.heights[i], &b = evidence.heights[j];
      device_covariance_(i, j) = wander_ft * wander_ft * std::exp(-std::abs(a.time_s - b.time_s) / memory_s) +
                                 (i == j ? a.white_sd_ft * a.white_sd_ft : 0.0);
    }
  columns_.resize(n, k_first_shape + static_cast<Eigen::Index>(flare_shapes().size()));
}

void HeightModel::fill(double touchdown_s) {
  const auto n = static_cast<Eigen::Index>(evidence_.heights.size());
  const auto& shapes = flare_shapes();
  columns_.setZero();
  covariance_ = device_covariance_;
  for (Eigen::Index i = 0; i < n; ++i) {
    const HeightReading& reading = evidence_.heights[i];
    columns_(i, k_height) = reading.height_ft;
    columns_(i, k_offset) = 1.0;
    const double before_s = touchdown_s - reading.time_s;
    if (before_s <= 0.0) continue;
    columns_(i, k_settle) = std::min(before_s / k_settle_s, 1.0);
    columns_(i, k_contact) = before_s;
    for (std::size_t s = 0; s < shapes.size(); ++s)
      columns_(i, k_first_shape + static_cast<Eigen::Index>(s)) = flare_height_s(shapes[s], before_s);
    for (Eigen::Index j = 0; j <= i; ++j) {
      const double other_s = touchdown_s - evidence_.heights[j].time_s;
      const double c = sink_noise().covariance(before_s, other_s);
      covariance_(i, j) += c;
      if (j != i) covariance_(j, i) += c;
    }
  }
}

void HeightModel::log_likelihood(double touchdown_s, Eigen::VectorXd& by_shape) {
  const auto& shapes = flare_shapes();
  by_shape.setZero(static_cast<Eigen::Index>(shapes.size()));
  if (evidence_.heights.empty()) return;
  fill(touchdown_s);
  const Eigen::LLT<Eigen::Ref<Eigen::MatrixXd>> factor(covariance_);
  factor.matrixL().solveInPlace(columns_);
  const double log_det = 2.0 * covariance_.diagonal().array().log().sum();
  products_.noalias() = columns_.transpose() * columns_;
  for (std::size_t s = 0; s < shapes.size(); ++s) {
    const auto k = static_cast<Eigen::Index>(s);
    by_shape[k] = integrate(static_cast<int>(k_first_shape + k), shapes[s].hold_off_s) -
                  0.5 * (products_(k_height, k_height) + log_det);
  }
}

/// Integrates offset, settle and approach sink in closed form, then sums over the sink at contact.
double HeightModel::integrate(int shape, double hold_off_s) const {
  static const auto contact_sink = choices(k_contact_sink_fps, k_contact_sink_belief);
  const auto& g = products_;
  const auto precision = [](double sd) { return 1.0 / (sd * sd); };
  const double offset_precision = precision(evidence_.height_offset_sd_ft);
  const double settle_precision = precision(k_settle_ft.sd),
               sink_precision = precision(k_approach_sink_fps.sd);
  const std::array<int, 3> unknown{k_offset, k_settle, shape};
  Eigen::Matrix3d information;
  Eigen::Vector3d observed, coupling;
  for (int a = 0; a < 3; ++a) {
    for (int b = 0; b < 3; ++b) information(a, b) = g(unknown[a], unknown[b]);
    observed[a] = g(unknown[a], k_height);
    // Sink at contact acts where the flare's fading sink does not: its column is time before the wheels minus
    // the shape.
    coupling[a] = g(unknown[a], k_contact) - g(unknown[a], shape);
  }
  information.diagonal() += Eigen::Vector3d(offset_precision, settle_precision, sink_precision);
  observed[1] += settle_precision * k_settle_ft.mean;
  observed[2] += sink_precision * k_approach_sink_fps.mean;
  const Eigen::LLT<Eigen::Matrix3d> factor(information);
  const Eigen::Vector3d whitened = factor.matrixL().solve(observed);
  const Eigen::Vector3d whitened_coupling = factor.matrixL().solve(coupling);
  const double log_det = 2.0 * factor.matrixLLT().diagonal().array().log().sum();
  const double curvature =
      g(k_contact, k_contact) - 2.0 * g(k_contact, shape) + g(shape, shape) - whitened_coupling.squaredNorm();
  const double slope = g(k_contact, k_height) - g(shape, k_height) - whitened_coupling.dot(whitened);
  std::array<double, k_contact_sink_fps.size()> terms;
  for (std::size_t i = 0; i < terms.size(); ++i) {
    const double sink = contact_sink.value[i];
    const double lost = sink * hold_off_s / k_hold_off_loss_sd_ft;
    terms[i] =
        contact_sink.log_probability[i] - 0.5 * lost * lost + slope * sink - 0.5 * curvature * sink * sink;
  }
  const double greatest = *std::max_element(terms.begin(), terms.end());
  double sum = 0.0;
  for (const double term : terms) sum += std::exp(term - greatest);
  return greatest + std::log(sum) + 0.5 * (whitened.squaredNorm() - log_det);
}

}  // namespace glidewright::touchdown

// Pitch evidence: wandering up through flare and hold-off, held when the wheels touch, then lowered until the
// nose wheel is down. When it is lowered belongs to the derotation that the speed shows.

#include <Eigen/Cholesky>
#include <Eigen/LU>
#include <algorithm>
#include <cmath>

#include "engine/debrief/touchdown_model.hpp"
#include "engine/debrief/touchdown_priors.hpp"

namespace glidewright::touchdown {
namespace {

enum Column { k_pitch, k_first_held };
constexpr int k_delays = static_cast<int>(k_derotation_delay_s.size());
constexpr int k_shapes = k_delays * static_cast<int>(k_nose_lowering_s.size());
constexpr int k_first_down = k_first_held + k_shapes;
constexpr int k_columns = k_first_down + k_shapes;

/// Share of the pitch at touchdown that is left.
double held_share(double after_s, double delay_s, double lowering_s) {
  return after_s <= delay_s ? 1.0 : std::exp((delay_s - after_s) / lowering_s);
}

double noise_covariance(double a_s, double b_s) {
  const double slow =
      k_pitch_noise_deg * k_pitch_noise_deg * std::exp(-std::abs(a_s - b_s) / k_pitch_noise_memory_s);
  return slow + (a_s == b_s ? k_pitch_white_deg * k_pitch_white_deg : 0.0);
}

}  // namespace

PitchModel::PitchModel(const LandingEvidence& evidence) : evidence_(evidence) {
  const auto n = static_cast<Eigen::Index>(evidence.pitches.size());
  covariance_.resize(n, n);
  columns_.resize(n, k_columns);
}

void PitchModel::fill(double touchdown_s) {
  const auto n = static_cast<Eigen::Index>(evidence_.pitches.size());
  for (Eigen::Index i = 0; i < n; ++i) {
    const PitchReading& reading = evidence_.pitches[static_cast<std::size_t>(i)];
    const double after_s = reading.time_s - touchdown_s;
    columns_(i, k_pitch) = reading.pitch_deg + k_pitch_rise_deg_s * std::max(-after_s, 0.0);
    int shape = 0;
    for (const double delay_s : k_derotation_delay_s)
      for (const double lowering_s : k_nose_lowering_s) {
        const double held = held_share(after_s, delay_s, lowering_s);
        columns_(i, k_first_held + shape) = held;
        columns_(i, k_first_down + shape) = 1.0 - held;
        ++shape;
      }
    for (Eigen::Index j = 0; j <= i; ++j) {
      const double other_s = evidence_.pitches[static_cast<std::size_t>(j)].time_s - touchdown_s;
      // A walk backwards from the wheels: the pilot raises the nose as he finds it needed.
      const double walked_s = std::max(0.0, std::min(-after_s, -other_s));
      covariance_(i, j) = covariance_(j, i) =
          k_pitch_walk_deg_per_root_s * k_pitch_walk_deg_per_root_s * walked_s +
          noise_covariance(after_s, other_s);
    }
  }
}

void PitchModel::log_likelihood(double touchdown_s, Eigen::ArrayXd& by_delay) {
  by_delay.setZero(k_delays);
  if (evidence_.pitches.empty()) return;
  fill(touchdown_s);
  const Eigen::LLT<Eigen::Ref<Eigen::MatrixXd>> factor(covariance_);
  factor.matrixL().solveInPlace(columns_);
  const double log_det = 2.0 * covariance_.diagonal().array().log().sum();
  const double whole = columns_.col(k_pitch).squaredNorm() + log_det;
  const Normal on_wheels = evidence_.rolling_pitch_deg
                               ? Normal{*evidence_.rolling_pitch_deg, k_rolling_pitch_sd_deg}
                               : k_unseen_rolling_pitch_deg;
  const auto lowerings = static_cast<int>(k_nose_lowering_s.size());
  for (int delay = 0; delay < k_delays; ++delay) {
    double sum = 0.0, greatest = -1e300;
    for (int k = delay * lowerings; k < (delay + 1) * lowerings; ++k) {
      const double term = integrate(k_first_held + k, k_first_down + k, on_wheels);
      if (term > greatest) {
        sum = sum * std::exp(greatest - term) + 1.0;
        greatest = term;
      } else {
        sum += std::exp(term - greatest);
      }
    }
    by_delay[delay] = greatest + std::log(sum / lowerings) - 0.5 * whole;
  }
}

/// Pitch at touchdown and on three wheels integrated in closed form.
double PitchModel::integrate(int held, int down, Normal on_wheels) const {
  const auto precision = [](Normal n) { return 1.0 / (n.sd * n.sd); };
  Eigen::Matrix2d information;
  information << columns_.col(held).squaredNorm(), columns_.col(held).dot(columns_.col(down)), 0.0,
      columns_.col(down).squaredNorm();
  information(1, 0) = information(0, 1);
  information.diagonal() += Eigen::Vector2d(precision(k_touchdown_pitch_deg), precision(on_wheels));
  const Eigen::Vector2d observed(
      columns_.col(held).dot(columns_.col(k_pitch)) +
          precision(k_touchdown_pitch_deg) * k_touchdown_pitch_deg.mean,
      columns_.col(down).dot(columns_.col(k_pitch)) + precision(on_wheels) * on_wheels.mean);
  return 0.5 * (observed.dot(information.inverse() * observed) - std::log(information.determinant()));
}

}  // namespace glidewright::touchdown

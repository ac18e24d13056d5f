#include "engine/track/motion_filter.hpp"

#include <Eigen/Core>
#include <Eigen/LU>
#include <algorithm>
#include <cmath>

namespace glidewright {
namespace {

using Matrix3 = Eigen::Matrix3d;

constexpr double k_gate = 4.0;      // innovations beyond this many sd lose weight
constexpr double k_far_gate = 8.0;  // so far out that several in a row mean the device has jumped
constexpr int k_jump_after = 4;     // that many in a row
constexpr double k_residual_gate = 3.0;
constexpr double k_first_place_variance = 1e8;  // ft2: the first fix decides
constexpr double k_first_speed_variance = 4e4;  // (200 ft/s)2

struct Transition {
  Matrix3 f = Matrix3::Identity();
  Matrix3 q = Matrix3::Zero();
};

/// Singer's transition over one step; for short steps the closed form cancels and its limit is used.
Transition transition_over(double step_s, const MotionModel& model) {
  const double alpha = 1.0 / model.correlation_time_s;
  const double x = alpha * step_s;
  const double e = std::exp(-x);
  const double spectral = 2.0 * model.acceleration_sd_fps2 * model.acceleration_sd_fps2 * alpha;
  const double t = step_s;
  Transition out;
  if (x < 0.03) {
    out.f << 1, t, t * t * (0.5 - x / 6.0), 0, 1, t * (1.0 - x / 2.0), 0, 0, e;
    out.q << t * t * t * t * t / 20, t * t * t * t / 8, t * t * t / 6,  //
        t * t * t * t / 8, t * t * t / 3, t * t / 2,                    //
        t * t * t / 6, t * t / 2, t;
    out.q *= spectral;
  } else {
    const double ee = e * e;
    out.f << 1, t, (x - 1.0 + e) / (alpha * alpha), 0, 1, (1.0 - e) / alpha, 0, 0, e;
    const double s = spectral / (2.0 * alpha);
    const double a = 1.0 / alpha;
    const double q11 =
        s * a * a * a * a * (1.0 - ee + 2.0 * x + 2.0 * x * x * x / 3.0 - 2.0 * x * x - 4.0 * x * e);
    const double q12 = s * a * a * a * (ee + 1.0 - 2.0 * e + 2.0 * x * e - 2.0 * x + x * x);
    const double q13 = s * a * a * (1.0 - ee - 2.0 * x * e);
    const double q22 = s * a * a * (4.0 * e - 3.0 - ee + 2.0 * x);
    const double q23 = s * a * (ee + 1.0 - 2.0 * e);
    const double q33 = s * (1.0 - ee);
    out.q << q11, q12, q13, q12, q22, q23, q13, q23, q33;
  }
  out.q(0, 0) += model.wander_ft2_per_s * t;
  return out;
}

/// Logs mostly step evenly: the last transition is kept.
class Transitions {
 public:
  explicit Transitions(const MotionModel& model) : model_(model) {}
  const Transition& over(double step_s) {
    if (std::abs(step_s - step_s_) > 1e-6) {
      step_s_ = step_s;
      kept_ = transition_over(step_s, model_);
    }
    return kept_;
  }

 private:
  const MotionModel& model_;
  double step_s_ = -1.0;
  Transition kept_;
};

template <std::size_t Axes>
using State = Eigen::Matrix<double, 3, static_cast<int>(Axes)>;
template <std::size_t Axes>
using Row = Eigen::Matrix<double, 1, static_cast<int>(Axes)>;

template <std::size_t Axes>
Row<Axes> row(const std::array<double, Axes>& values) {
  return Eigen::Map<const Row<Axes>>(values.data());
}

template <std::size_t Axes>
struct Step {
  State<Axes> x;
  Matrix3 p;
  double jump_variance = 0.0;  // position variance added before this step: the device has jumped
  double place_weight = 1.0;   // found by the first pass
  double speed_weight = 1.0;
  bool starts_anew = false;
};

enum class Pass { gating, weighted };

template <std::size_t Axes>
class Smoother {
 public:
  Smoother(const std::vector<MotionMeasurement<Axes>>& measurements, const MotionModel& model)
      : measurements_(measurements), transitions_(model), model_(model), steps_(measurements.size()) {}

  std::vector<MotionEstimate<Axes>> run() {
    std::vector<MotionEstimate<Axes>> estimates(measurements_.size());
    if (measurements_.empty()) return estimates;
    forward(Pass::gating);
    backward(estimates);
    weigh(estimates);
    forward(Pass::weighted);
    backward(estimates);
    return estimates;
  }

 private:
  void start(Step<Axes>& step, const MotionMeasurement<Axes>& measured) {
    step.starts_anew = true;
    step.x.setZero();
    step.x.row(0) = row<Axes>(measured.place);
    step.p.setZero();
    step.p(0, 0) = k_first_place_variance;
    step.p(1, 1) = k_first_speed_variance;
    step.p(2, 2) = model_.acceleration_sd_fps2 * model_.acceleration_sd_fps2;
  }

  void forward(Pass pass) {
    int far_in_a_row = 0;
    for (std::size_t i = 0; i < steps_.size(); ++i) {
      Step<Axes>& step = steps_[i];
      const double pause_s = i == 0 ? -1.0 : measurements_[i].time_s - measurements_[i - 1].time_s;
      if (!(pause_s >= 0.0 && pause_s <= k_independent_after_s)) {
        start(step, measurements_[i]);
        far_in_a_row = 0;
      } else {
        const Transition& over = transitions_.over(pause_s);
        step.x.noalias() = over.f * steps_[i - 1].x;
        step.p = over.f * steps_[i - 1].p * over.f.transpose() + over.q;
        if (pass == Pass::gating) far_in_a_row = note_jump(step, measurements_[i], far_in_a_row);
        step.p(0, 0) += step.jump_variance;
      }
      update(step, measurements_[i], pass);
    }
  }

  /// One far fix is an outlier; several in a row are the truth, and the state must follow.
  int note_jump(Step<Axes>& step, const MotionMeasurement<Axes>& measured, int far_in_a_row) {
    const double innovation2 = (row<Axes>(measured.place) - step.x.row(0)).squaredNorm();
    const double variance = step.p(0, 0) + measured.place_variance;
    if (innovation2 < k_far_gate * k_far_gate * variance) return 0;
    if (far_in_a_row + 1 < k_jump_after) return far_in_a_row + 1;
    step.jump_variance = innovation2;
    return 0;
  }

  void update(Step<Axes>& step, const MotionMeasurement<Axes>& measured, Pass pass) {
    correct(step, 0, row<Axes>(measured.place), measured.place_variance / step.place_weight, pass);
    if (measured.speed_variance > 0.0) {
      correct(step, 1, row<Axes>(measured.speed), measured.speed_variance / step.speed_weight, pass);
    }
  }

  static void correct(Step<Axes>& step, int component, const Row<Axes>& measured, double variance,
                      Pass pass) {
    const Row<Axes> innovation = measured - step.x.row(component);
    double sum = step.p(component, component) + variance;
    if (pass == Pass::gating) {
      // Huber: the pull of a fix stays bounded however far out it lies.
      const double distance = std::sqrt(innovation.squaredNorm() / sum);
      if (distance > k_gate) sum *= distance / k_gate;
    }
    const Eigen::Vector3d gain = step.p.col(component) / sum;
    step.x.noalias() += gain * innovation;
    step.p -= gain * gain.transpose() * sum;
    step.p = 0.5 * (step.p + step.p.transpose()).eval();
  }

  void backward(std::vector<MotionEstimate<Axes>>& estimates) {
    State<Axes> x = State<Axes>::Zero();
    Matrix3 p = Matrix3::Zero();
    for (std::size_t i = steps_.size(); i-- > 0;) {
      const Step<Axes>& step = steps_[i];
      if (i + 1 == steps_.size() || steps_[i + 1].starts_anew) {
        x = step.x;
        p = step.p;
      } else {
        const Transition& over = transitions_.over(measurements_[i + 1].time_s - measurements_[i].time_s);
        Matrix3 predicted = over.f * step.p * over.f.transpose() + over.q;
        predicted(0, 0) += steps_[i + 1].jump_variance;
        const Matrix3 gain = step.p * over.f.transpose() * predicted.inverse();
        x = (step.x + gain * (x - over.f * step.x)).eval();
        p = (step.p + gain * (p - predicted) * gain.transpose()).eval();
      }
      write(estimates[i], x, p);
    }
  }

  static void write(MotionEstimate<Axes>& estimate, const State<Axes>& x, const Matrix3& p) {
    for (std::size_t axis = 0; axis < Axes; ++axis) {
      estimate.place[axis] = x(0, static_cast<int>(axis));
      estimate.speed[axis] = x(1, static_cast<int>(axis));
      estimate.acceleration[axis] = x(2, static_cast<int>(axis));
    }
    estimate.place_variance = std::max(p(0, 0), 0.0);
    estimate.speed_variance = std::max(p(1, 1), 0.0);
    estimate.acceleration_variance = std::max(p(2, 2), 0.0);
  }

  /// Weights of the second pass: falling with the square of the distance, so that a gross error ends up with
  /// none.
  void weigh(const std::vector<MotionEstimate<Axes>>& estimates) {
    for (std::size_t i = 0; i < steps_.size(); ++i) {
      const auto& m = measurements_[i];
      const auto weight = [](double residual2, double variance) {
        const double limit2 = k_residual_gate * k_residual_gate * variance * static_cast<double>(Axes);
        return residual2 > limit2 ? limit2 / residual2 : 1.0;
      };
      steps_[i].place_weight = weight((row<Axes>(m.place) - row<Axes>(estimates[i].place)).squaredNorm(),
                                      m.place_variance + estimates[i].place_variance);
      if (m.speed_variance > 0.0) {
        steps_[i].speed_weight = weight((row<Axes>(m.speed) - row<Axes>(estimates[i].speed)).squaredNorm(),
                                        m.speed_variance + estimates[i].speed_variance);
      }
    }
  }

  const std::vector<MotionMeasurement<Axes>>& measurements_;
  Transitions transitions_;
  const MotionModel& model_;
  std::vector<Step<Axes>> steps_;
};

}  // namespace

template <std::size_t Axes>
std::vector<MotionEstimate<Axes>> smooth_motion(const std::vector<MotionMeasurement<Axes>>& measurements,
                                                const MotionModel& model) {
  return Smoother<Axes>(measurements, model).run();
}

template std::vector<MotionEstimate<1>> smooth_motion(const std::vector<MotionMeasurement<1>>&,
                                                      const MotionModel&);
template std::vector<MotionEstimate<2>> smooth_motion(const std::vector<MotionMeasurement<2>>&,
                                                      const MotionModel&);

}  // namespace glidewright

#include "engine/track/wind_fit.hpp"

#include <Eigen/Cholesky>
#include <Eigen/LU>
#include <algorithm>
#include <cmath>

#include "engine/units/units.hpp"

namespace glidewright {
namespace {

constexpr double k_floor_ft = 2.0 / k_metres_per_foot;   // lowest height of the profile: 2 m
constexpr double k_cap_ft = 400.0 / k_metres_per_foot;   // highest: top of the surface layer, about 1,300 ft
constexpr double k_level_ft = 10.0 / k_metres_per_foot;  // where a wind is reported
constexpr double k_forget_after_s = 120.0;               // a pause after which airspeed may be anything
constexpr int k_rounds = 25;

using Vector4 = Eigen::Vector4d;
using Matrix4 = Eigen::Matrix4d;
/// Airspeed, then its derivatives by the four parameters.
using Row5 = Eigen::Matrix<double, 1, 5>;

Vector4 parameters(const WindVector& w) {
  return {w.along_fps, w.cross_fps, w.exponent, w.veer_rad_per_1000ft};
}
WindVector wind_of(const Vector4& p) {
  return {p(0), p(1), p(2), p(3)};
}

Row5 airspeed_and_slopes(const CircuitVelocity& v, const WindVector& wind) {
  const double height = std::clamp(v.height_ft, k_floor_ft, k_cap_ft);
  const double ratio = std::pow(height / k_level_ft, wind.exponent);
  const double thousands = (height - k_level_ft) / 1000.0;
  const auto [w_along, w_cross] = wind.at(v.height_ft);
  const double along = v.along_fps - w_along, cross = v.cross_fps - w_cross;
  const double speed = std::max(std::hypot(along, cross), 1.0);
  const double c = std::cos(wind.veer_rad_per_1000ft * thousands),
               s = std::sin(wind.veer_rad_per_1000ft * thousands);
  const double growth = std::log(height / k_level_ft);
  Row5 row;
  row << speed,                                               //
      -(along * c + cross * s) * ratio / speed,               //
      -(-along * s + cross * c) * ratio / speed,              //
      -(along * w_along + cross * w_cross) * growth / speed,  //
      -(-along * w_cross + cross * w_along) * thousands / speed;
  return row;
}

/// Takes out of a series what the model of airspeed predicts from its past; what stays is white with sd 1.
/// Linear, so that it serves airspeeds and their slopes alike.
class Whitener {
 public:
  explicit Whitener(const AirspeedModel& model) : model_(model) {}

  Row5 next(const CircuitVelocity& v, const Row5& measured) {
    predict(v);
    const double variance = p_.sum() + v.speed_sd_fps * v.speed_sd_fps;
    const Eigen::Vector3d gain = p_.rowwise().sum() / variance;
    const Row5 innovation = measured - x_.colwise().sum();
    x_ += gain * innovation;
    p_ -= gain * p_.colwise().sum();
    return innovation / std::sqrt(variance);
  }

 private:
  // State: mean of the leg, slow wander, gust. Their sum is measured.
  void predict(const CircuitVelocity& v) {
    const double pause_s = v.time_s - last_s_;
    last_s_ = v.time_s;
    const double slow = std::exp(-std::max(pause_s, 0.0) / model_.wander_time_s);
    const double fast = std::exp(-std::max(pause_s, 0.0) / model_.gust_time_s);
    const Eigen::Vector3d f(1.0, slow, fast);
    x_ = (f.asDiagonal() * x_).eval();
    p_ = (f.asDiagonal() * p_ * f.asDiagonal()).eval();
    p_(1, 1) += model_.wander_sd_fps * model_.wander_sd_fps * (1.0 - slow * slow);
    p_(2, 2) += model_.gust_sd_fps * model_.gust_sd_fps * (1.0 - fast * fast);
    if (v.new_airspeed_fps > 0.0) {
      begin_leg(v.new_airspeed_fps, v.new_airspeed_sd_fps);
    } else if (pause_s > k_forget_after_s) {
      p_(0, 0) += 4.0 * model_.wander_sd_fps * model_.wander_sd_fps;
    }
    x_(0, 0) += v.change_fps;
    p_(0, 0) += v.change_sd_fps * v.change_sd_fps;
  }

  void begin_leg(double airspeed_fps, double sd_fps) {
    x_.row(0).setZero();
    x_(0, 0) = airspeed_fps;
    p_.row(0).setZero();
    p_.col(0).setZero();
    p_(0, 0) = sd_fps * sd_fps;
    if (!begun_) {
      p_(1, 1) = model_.wander_sd_fps * model_.wander_sd_fps;
      p_(2, 2) = model_.gust_sd_fps * model_.gust_sd_fps;
      begun_ = true;
    }
  }

  const AirspeedModel& model_;
  double last_s_ = 0.0;
  bool begun_ = false;
  Eigen::Matrix<double, 3, 5> x_ = Eigen::Matrix<double, 3, 5>::Zero();
  Eigen::Matrix3d p_ = Eigen::Matrix3d::Zero();
};

struct Linearised {
  double cost = 0.0;
  double misfit = 0.0;
  Vector4 gradient = Vector4::Zero();
  Matrix4 curvature = Matrix4::Zero();
};

Linearised linearise(const std::vector<CircuitVelocity>& velocities, const AirspeedModel& airspeed,
                     const WindBelief& belief, const Vector4& at) {
  Linearised out;
  Whitener whitener(airspeed);
  const WindVector wind = wind_of(at);
  for (const CircuitVelocity& v : velocities) {
    const Row5 row = whitener.next(v, airspeed_and_slopes(v, wind));
    const double r = row(0);
    const Vector4 j = row.tail<4>().transpose();
    // Huber: a strange stretch (a stall exercise, an orbit in rising air) must not rule the wind.
    const double weight = std::abs(r) > 2.5 ? 2.5 / std::abs(r) : 1.0;
    out.cost += weight < 1.0 ? 2.5 * (2.0 * std::abs(r) - 2.5) : r * r;
    out.misfit += r * r;
    out.gradient += weight * r * j;
    out.curvature += weight * j * j.transpose();
  }
  if (!velocities.empty()) out.misfit /= static_cast<double>(velocities.size());
  const Vector4 inverse_sd(1.0 / belief.sd_fps, 1.0 / belief.sd_fps, 1.0 / belief.exponent_sd,
                           1.0 / belief.veer_sd_rad_per_1000ft);
  const Vector4 off = (at - parameters(belief.mean)).cwiseProduct(inverse_sd);
  out.cost += off.squaredNorm();
  out.gradient += off.cwiseProduct(inverse_sd);
  out.curvature += inverse_sd.cwiseAbs2().asDiagonal();
  return out;
}

}  // namespace

WindVector::Components WindVector::at(double height_ft) const {
  const double height = std::clamp(height_ft, k_floor_ft, k_cap_ft);
  const double ratio = std::pow(height / k_level_ft, exponent);
  const double turned = veer_rad_per_1000ft * (height - k_level_ft) / 1000.0;
  const double c = std::cos(turned), s = std::sin(turned);
  return {ratio * (along_fps * c - cross_fps * s), ratio * (along_fps * s + cross_fps * c)};
}

WindFit fit_wind(const std::vector<CircuitVelocity>& velocities, const AirspeedModel& airspeed,
                 const WindBelief& belief) {
  // Damped Gauss-Newton; four parameters, and a cost that is smooth while the wind is weaker than the
  // airspeed.
  Vector4 at = parameters(belief.mean);
  Linearised now = linearise(velocities, airspeed, belief, at);
  double damping = 1e-3;
  for (int round = 0; round < k_rounds && damping < 1e8; ++round) {
    Matrix4 damped = now.curvature;
    damped.diagonal() *= 1.0 + damping;
    const Vector4 step = damped.ldlt().solve(-now.gradient);
    const Linearised next = linearise(velocities, airspeed, belief, at + step);
    if (!(next.cost < now.cost)) {
      damping *= 10.0;
      continue;
    }
    const bool settled = now.cost - next.cost < 1e-9 * (1.0 + now.cost);
    at += step;
    now = next;
    damping *= 0.2;
    if (settled) break;
  }
  return {wind_of(at), now.curvature.inverse(), now.misfit};
}

}  // namespace glidewright

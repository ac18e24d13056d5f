#pragma once
// Equations of motion of the gliding airplane: a point mass with speed, bank and flap dynamics.
//
// Frame: the pattern frame (always a left-hand pattern). Angles in radians: heading 0 along the landing
// direction, growing to the right; bank right positive; path up positive. Speeds are true, ft/s.

#include <cmath>

#include "engine/airplane/airplane.hpp"
#include "engine/glide/wind_field.hpp"

namespace glidewright {

/// What the integrator carries.
struct FlightState {
  double along_ft = 0.0;
  double cross_ft = 0.0;
  double height_ft = 0.0;
  double speed_fps = 0.0;    ///< through the air
  double path_rad = 0.0;     ///< of the air path
  double heading_rad = 0.0;  ///< of the air path (no sideslip; a slip is drag)
  double bank_rad = 0.0;
  double flap_deg = 0.0;
  double slip = 0.0;
  double thrust_over_weight = 0.0;  ///< fades after the lever is closed; the idling propeller is in the polar
};

/// What the pilot wants, fixed between two decisions.
struct Commands {
  enum class Vertical { hold_height, hold_speed, flare } vertical = Vertical::hold_height;
  double height_ft = 1000.0;
  double speed_fps = 118.0;
  double flare_height_ft = 30.0;  ///< where the flare began
  double flare_sink_fps = 15.0;   ///< sink there
  double touchdown_speed_fps = 88.0;

  enum class Lateral { hold_course, capture_centreline } lateral = Lateral::hold_course;
  double sin_course = 0.0;  ///< of the course over the ground that is held
  double cos_course = -1.0;
  double bank_limit_rad = 0.5;

  double flap_deg = 0.0;
  double slip = 0.0;
  bool idle = false;
};

/// How fast airplane and hands answer: common practice, no source.
struct Handling {
  double roll_lag_s = 0.5;
  double roll_rate_limit_rad_s = 0.26;  ///< 15 degrees a second
  double pitch_lag_s = 1.0;
  double flare_pitch_lag_s = 0.5;
  double speed_lag_s = 4.0;
  double power_fade_s = 1.3;  ///< gone after about three of these
  double flap_rate_deg_s = 6.0;
  double slip_rate_per_s = 0.6;
  double pull_limit_g = 0.35;  ///< most that load factor is changed by pitch
};

/// Everything that stays the same during one approach.
struct Flight {
  const Airplane* airplane = nullptr;
  WindField wind;
  double weight_lb = 2300.0;
  double density_ratio = 1.0;
  double drag_factor = 1.0;
  double slip_factor = 1.0;
  Handling handling;

  double calibrated_kt(double speed_fps) const {
    return speed_fps / k_fps_per_knot * std::sqrt(density_ratio);
  }
  double true_fps(double calibrated_kt) const {
    return calibrated_kt * k_fps_per_knot / std::sqrt(density_ratio);
  }
};

/// Forces at one moment, for the record.
struct Forces {
  double drag_over_weight = 0.0;
  double load_factor = 1.0;
};

/// Time derivative of every component.
FlightState derivative(const Flight& flight, const FlightState& state, const Commands& commands,
                       Forces* forces = nullptr);

/// One step of the classic fourth-order Runge-Kutta method.
/// Source: W. Kutta, Z. Math. Phys. 46 (1901). Error of a step falls with the fifth power of its length where
/// no limit (roll rate, pull) switches inside it.
FlightState runge_kutta4(const Flight& flight, const FlightState& state, const Commands& commands,
                         double step_s);

/// Ground velocity.
struct GroundVelocity {
  double along_fps = 0.0;
  double cross_fps = 0.0;
  double speed_fps = 0.0;

  double course_rad() const { return std::atan2(cross_fps, along_fps); }
};
GroundVelocity ground_velocity(const Flight& flight, const FlightState& state);

/// Bank that rolls out on the centreline from here: the circle tangent to it, then a straight chase of it.
double centreline_bank(const FlightState& state, const GroundVelocity& ground, double bank_limit_rad);

}  // namespace glidewright

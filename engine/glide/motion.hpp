#pragma once
// Equations of motion of the gliding airplane: a point mass with speed, bank and flap dynamics.
//
// Frame: the pattern frame (always a left-hand pattern). Angles in radians: heading 0 along the landing
// direction, growing to the right; bank right positive; path up positive. Speeds are true, ft/s.
//
// The structs are templates over the lane type L: double for the reference, whose functions are declared
// here, or floats side by side for the batch. The equations are in equations.hpp, once for both.

#include <cmath>

#include "engine/airplane/airplane.hpp"
#include "engine/glide/state.hpp"
#include "engine/glide/wind_field.hpp"
#include "engine/lanes/scalar.hpp"

namespace glidewright {

using FlightState = FlightStateOf<double>;
using Commands = CommandsOf<double>;
using Forces = ForcesOf<double>;
using GroundVelocity = GroundVelocityOf<double>;
using OverGround = OverGroundOf<double>;

/// Everything that stays the same during one approach.
struct Flight {
  const Airplane* airplane = nullptr;
  WindField wind;
  double weight_lb = 2300.0;
  double density_ratio = 1.0;
  double drag_factor = 1.0;
  double slip_factor = 1.0;
  Handling handling;
  GustOf<double> gust{};  ///< of this moment

  double calibrated_kt(double speed_fps) const {
    return speed_fps / k_fps_per_knot * std::sqrt(density_ratio);
  }
  double true_fps(double calibrated_kt) const {
    return calibrated_kt * k_fps_per_knot / std::sqrt(density_ratio);
  }
  FlapPolar flap_polar(double flap_deg) const { return airplane->polar.at_flap(flap_deg); }
  FlapPolar flap_polar_of(const FlightState& state) const { return flap_polar(state.flap_deg); }
  PolarShape<double> polar_shape() const { return airplane->polar.shape(weight_lb); }
  double wing_height_ft() const { return airplane->wing_height_ft; }
  double wing_span_ft() const { return airplane->wing_span_ft; }
};

/// Time derivative of every component.
FlightState derivative(const Flight& flight, const FlightState& state, const Commands& commands,
                       Forces* forces = nullptr);

/// One step of the classic fourth-order Runge-Kutta method.
/// Source: W. Kutta, Z. Math. Phys. 46 (1901). Error of a step falls with the fifth power of its length where
/// no limit (roll rate, pull) switches inside it.
FlightState runge_kutta4(const Flight& flight, const FlightState& state, const Commands& commands,
                         double step_s);

OverGround over_ground(const Flight& flight, const FlightState& state);
GroundVelocity ground_velocity(const Flight& flight, const FlightState& state);

}  // namespace glidewright

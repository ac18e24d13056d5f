#include "engine/glide/motion.hpp"

#include "engine/glide/equations.hpp"

namespace glidewright {

OverGround over_ground(const Flight& flight, const FlightState& state) {
  return equations::over_ground(flight, state);
}

GroundVelocity ground_velocity(const Flight& flight, const FlightState& state) {
  return over_ground(flight, state).ground;
}

FlightState derivative(const Flight& flight, const FlightState& state, const Commands& commands,
                       Forces* forces) {
  return equations::derivative(flight, state, over_ground(flight, state), commands, forces);
}

FlightState runge_kutta4(const Flight& flight, const FlightState& state, const Commands& commands,
                         double step_s) {
  using equations::moved;
  const FlightState k1 = derivative(flight, state, commands);
  const FlightState k2 = derivative(flight, moved(state, k1, step_s / 2.0), commands);
  const FlightState k3 = derivative(flight, moved(state, k2, step_s / 2.0), commands);
  const FlightState k4 = derivative(flight, moved(state, k3, step_s), commands);
  FlightState next = moved(state, k1, step_s / 6.0);
  next = moved(next, k2, step_s / 3.0);
  next = moved(next, k3, step_s / 3.0);
  return moved(next, k4, step_s / 6.0);
}

}  // namespace glidewright

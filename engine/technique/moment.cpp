#include "engine/technique/moment.hpp"

#include <cmath>

namespace glidewright {

Moment moment_of(const Flight& flight, const Conditions& conditions, const Commands& commands,
                 const FlightState& state, double time_s) {
  const double mirror = conditions.traffic == Traffic::right ? -1.0 : 1.0;
  const GroundVelocity ground = ground_velocity(flight, state);
  Forces forces;
  derivative(flight, state, commands, &forces);
  Moment m;
  m.time_s = time_s;
  m.along_ft = state.along_ft;
  m.cross_ft = mirror * state.cross_ft;
  m.height_ft = state.height_ft;
  m.true_airspeed_kt = state.speed_fps / k_fps_per_knot;
  m.calibrated_airspeed_kt = m.true_airspeed_kt * std::sqrt(flight.density_ratio);
  m.groundspeed_kt = ground.speed_fps / k_fps_per_knot;
  m.sink_fpm = -60.0 * state.speed_fps * std::sin(state.path_rad);
  m.bank_deg = mirror * state.bank_rad / k_radians_per_degree;
  m.heading_true_deg =
      wrap_360_deg(conditions.runway_true_deg + mirror * state.heading_rad / k_radians_per_degree);
  m.flap_deg = state.flap_deg;
  m.slip = state.slip;
  m.load_factor = forces.load_factor;
  return m;
}

Moment between(const Moment& from, const Moment& to, double share) {
  const auto mix = [share](double a, double b) { return a + share * (b - a); };
  Moment m = to;
  m.time_s = mix(from.time_s, to.time_s);
  m.along_ft = mix(from.along_ft, to.along_ft);
  m.cross_ft = mix(from.cross_ft, to.cross_ft);
  m.height_ft = mix(from.height_ft, to.height_ft);
  m.true_airspeed_kt = mix(from.true_airspeed_kt, to.true_airspeed_kt);
  m.calibrated_airspeed_kt = mix(from.calibrated_airspeed_kt, to.calibrated_airspeed_kt);
  m.groundspeed_kt = mix(from.groundspeed_kt, to.groundspeed_kt);
  m.sink_fpm = mix(from.sink_fpm, to.sink_fpm);
  m.bank_deg = mix(from.bank_deg, to.bank_deg);
  return m;
}

}  // namespace glidewright

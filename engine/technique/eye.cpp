#include "engine/technique/eye.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace glidewright {

PathToGo path_to_go(const FlightState& state, double turn_radius_ft) {
  const double turn_left = std::clamp(std::abs(state.heading_rad), 0.0, std::numbers::pi);
  const double room_ft = std::max(0.0, -state.cross_ft);
  if (turn_left < 0.3) return {0.0, 0.0, state.along_ft};
  const double radius_ft = std::min(turn_radius_ft, room_ft / std::max(0.05, 1.0 - std::cos(turn_left)));
  const double straight_ft =
      std::max(0.0, room_ft - radius_ft * (1.0 - std::cos(turn_left))) / std::max(0.3, std::sin(turn_left));
  return {straight_ft, radius_ft * turn_left,
          state.along_ft + straight_ft * std::cos(turn_left) + radius_ft * std::sin(turn_left)};
}

double eye_touchdown_ft(const Flight& flight, const FlightState& state, const Technique& technique,
                        EyeConfiguration configuration) {
  const Airplane& airplane = *flight.airplane;
  const double per_true = k_fps_per_knot / std::sqrt(flight.density_ratio);
  const double final_fps = technique.final_speed_kt * per_true;
  const double touchdown_fps = technique.touchdown_speed_kt * per_true;
  const auto drag = [&](double speed_kt, double load_factor, double induced_remaining) {
    return airplane.polar.drag_over_weight(speed_kt, flight.weight_lb, configuration.flap_deg,
                                           configuration.slip, load_factor, induced_remaining);
  };
  const double gliding = drag(technique.final_speed_kt, 1.0, 1.0);
  // Half of the flare is flown above ground effect, and the float ends nose-high in a settle.
  constexpr double settling = 1.12;
  const double flaring =
      settling * 0.5 *
      (gliding + drag(0.5 * (technique.final_speed_kt + technique.touchdown_speed_kt), 1.0,
                      1.0 - ground_effect_cut(airplane.wing_height_ft / airplane.wing_span_ft)));

  const double turn_bank = technique.final_turn_bank_deg * k_radians_per_degree;
  const double radius_ft = final_fps * final_fps / (k_gravity_fps2 * std::tan(turn_bank));
  const PathToGo path = path_to_go(state, radius_ft);

  // Energy above the flare, spent on base and turn first, then on the final leg into the wind.
  const double flare_height_ft = std::clamp(technique.flare_lead_s * gliding * final_fps, 8.0, 60.0);
  double energy_ft = state.height_ft - flare_height_ft +
                     (state.speed_fps * state.speed_fps - final_fps * final_fps) / (2.0 * k_gravity_fps2);
  const LocalWind here = flight.wind.at(state.height_ft);
  const LocalWind low = flight.wind.at(10.0);
  const double base_headway = std::sqrt(std::max(0.2, 1.0 - std::pow(here.along_fps / final_fps, 2)));
  energy_ft -= gliding / base_headway * (path.base_ft + path.turn_ft / std::cos(turn_bank));
  // What the headwind loses on the way down, the airspeed loses too.
  energy_ft -= final_fps * (low.along_fps - here.along_fps) / k_gravity_fps2;
  const double headway = 1.0 + flight.wind.at(0.5 * std::max(state.height_ft, 0.0)).along_fps / final_fps;
  const double flare_energy_ft =
      flare_height_ft + (final_fps * final_fps - touchdown_fps * touchdown_fps) / (2.0 * k_gravity_fps2);
  return path.final_along_ft + energy_ft / gliding * headway +
         flare_energy_ft / flaring * (1.0 + low.along_fps / final_fps);
}

}  // namespace glidewright

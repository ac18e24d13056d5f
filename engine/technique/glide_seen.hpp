#pragma once
// The pilot's eye, once for the reference and the batch: where would the glide end from here?

#include "engine/airplane/drag.hpp"
#include "engine/technique/intent.hpp"

namespace glidewright::pilot {

/// What the eye reckons with.
template <class L>
struct EyeConfigurationOf {
  L flap_deg = 0.0;
  L slip = 0.0;
};

/// Ground distance still to be flown along the pattern to the touchdown point, and how much of it is turn.
template <class L>
struct PathToGoOf {
  L base_ft;
  L turn_ft;
  L final_along_ft;  ///< place on the centreline where the final leg begins
};

template <class L>
GLIDEWRIGHT_INLINE PathToGoOf<L> path_to_go(const FlightStateOf<L>& state, const SineCosine<L>& heading,
                                            const L& turn_radius_ft) {
  constexpr double half_turn = 3.14159265358979323846, straight_in_rad = 0.3;
  const L off_runway = magnitude(state.heading_rad);
  const Mask<L> behind = off_runway > half_turn;
  const L turn_left = smaller(off_runway, L(half_turn));
  const L sine = choose(behind, L(0.0), magnitude(heading.sine));
  const L cosine = choose(behind, L(-1.0), heading.cosine);
  const L room_ft = larger(L(0.0), -state.cross_ft);
  const L radius_ft = smaller(turn_radius_ft, room_ft / larger(L(0.05), 1.0 - cosine));
  const L straight_ft = larger(L(0.0), room_ft - radius_ft * (1.0 - cosine)) / larger(L(0.3), sine);
  const Mask<L> straight_in = turn_left < straight_in_rad;
  return {choose(straight_in, L(0.0), straight_ft), choose(straight_in, L(0.0), radius_ft * turn_left),
          choose(straight_in, state.along_ft, state.along_ft + straight_ft * cosine + radius_ft * sine)};
}

template <class L, class F>
GLIDEWRIGHT_INLINE EyeNumbers<L> eye_numbers(const F& flight, const TechniqueNumbersOf<L>& technique) {
  EyeNumbers<L> eye;
  const L final_kt = technique.final_speed_kt;
  const L flare_kt = 0.5 * (technique.final_speed_kt + technique.touchdown_speed_kt);
  eye.final_kt_squared = final_kt * final_kt;
  eye.inverse_final_kt_squared = 1.0 / eye.final_kt_squared;
  eye.flare_kt_squared = flare_kt * flare_kt;
  eye.inverse_flare_kt_squared = 1.0 / eye.flare_kt_squared;
  eye.final_fps = flight.true_fps(final_kt);
  eye.inverse_final_fps = 1.0 / eye.final_fps;
  const L touchdown_fps = flight.true_fps(L(technique.touchdown_speed_kt));
  eye.final_energy_ft = eye.final_fps * eye.final_fps / (2.0 * k_gravity_fps2);
  eye.flare_energy_ft =
      (eye.final_fps * eye.final_fps - touchdown_fps * touchdown_fps) / (2.0 * k_gravity_fps2);
  const SineCosine<L> bank = sine_cosine_of_small(L(technique.final_turn_bank_deg * k_radians_per_degree));
  eye.turn_radius_ft = eye.final_fps * eye.final_fps * bank.cosine / (k_gravity_fps2 * bank.sine);
  eye.turn_load = 1.0 / bank.cosine;
  eye.induced_remaining_at_wheels =
      1.0 - ground_effect_cut_of(L(flight.wing_height_ft()) / L(flight.wing_span_ft()));
  eye.low_wind_along_fps = flight.wind.at(L(10.0)).along_fps;
  return eye;
}

/// Along-runway touchdown if the glide is carried on from here with this flap: energy height over drag, in
/// the mean wind, the turns to come included. Meant as the pilot's rule of thumb, within some 150 ft of the
/// integrator from the final leg.
template <class L, class F>
GLIDEWRIGHT_INLINE L glide_seen_to_end_ft(const F& flight, const FlightStateOf<L>& state,
                                          const OverGroundOf<L>& over, const EyeNumbers<L>& eye,
                                          const TechniqueNumbersOf<L>& technique,
                                          const EyeConfigurationOf<L>& configuration) {
  const auto flap = flight.flap_polar(configuration.flap_deg);
  const auto shape = flight.polar_shape();
  const L gliding = drag_at_speed(shape, flap, eye.final_kt_squared, eye.inverse_final_kt_squared,
                                  configuration.slip, L(1.0))
                        .over_weight(L(1.0));
  // Half of the flare is flown above ground effect, and the float ends nose-high in a settle.
  constexpr double settling = 1.12;
  const L flaring = settling * 0.5 *
                    (gliding + drag_at_speed(shape, flap, eye.flare_kt_squared, eye.inverse_flare_kt_squared,
                                             configuration.slip, eye.induced_remaining_at_wheels)
                                   .over_weight(L(1.0)));
  const PathToGoOf<L> path = path_to_go(state, over.heading, eye.turn_radius_ft);

  // Energy above the flare, spent on base and turn first, then on the final leg into the wind.
  const L flare_height_ft = limited(technique.flare_lead_s * gliding * eye.final_fps, L(8.0), L(60.0));
  L energy_ft = state.height_ft - flare_height_ft +
                (state.speed_fps * state.speed_fps * (0.5 / k_gravity_fps2) - eye.final_energy_ft);
  const L here_along_fps = over.wind.along_fps;
  const L across = here_along_fps * eye.inverse_final_fps;
  const L base_headway = square_root(larger(L(0.2), 1.0 - across * across));
  energy_ft -= gliding * (path.base_ft + path.turn_ft * eye.turn_load) / base_headway;
  // What the headwind loses on the way down, the airspeed loses too.
  energy_ft -= eye.final_fps * (eye.low_wind_along_fps - here_along_fps) * (1.0 / k_gravity_fps2);
  const L headway =
      1.0 + flight.wind.at(0.5 * larger(state.height_ft, L(0.0))).along_fps * eye.inverse_final_fps;
  const L low_headway = 1.0 + eye.low_wind_along_fps * eye.inverse_final_fps;
  return path.final_along_ft + energy_ft / gliding * headway +
         (flare_height_ft + eye.flare_energy_ft) / flaring * low_headway;
}

}  // namespace glidewright::pilot

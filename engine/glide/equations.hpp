#pragma once
// The equations of motion, once for the reference and the batch. F, the flight, is Flight or a lane's flight
// (engine/batch/lane_flight.hpp): wind, polar, weight and air by the same names.

#include "engine/airplane/drag.hpp"
#include "engine/glide/state.hpp"
#include "engine/units/units.hpp"

namespace glidewright::equations {

inline constexpr double k_hold_off_height_ft = 1.0;
/// As much as a pilot still calls a touchdown: common practice, no source.
inline constexpr double k_settle_sink_fps = 3.0;
/// What a pilot counts on to lose in the float, 1.9 kt a second (as the touchdown's prior has it).
inline constexpr double k_float_deceleration_fps2 = 3.2;

/// Arc sine to 1e-4 up to 0.45: what a pilot aims the path at need not be finer, and it costs no library
/// call.
template <class L>
GLIDEWRIGHT_INLINE L gentle_arcsine(const L& x) {
  return x * (1.0 + x * x * (1.0 / 6.0 + x * x * (3.0 / 40.0)));
}

template <class L, class F>
GLIDEWRIGHT_INLINE OverGroundOf<L> over_ground(const F& flight, const FlightStateOf<L>& state) {
  OverGroundOf<L> over;
  over.wind = flight.wind.at(state.height_ft);
  over.heading = sine_cosine(state.heading_rad);
  over.path = sine_cosine_of_small(state.path_rad);
  const L horizontal_fps = state.speed_fps * over.path.cosine;
  over.ground.along_fps = horizontal_fps * over.heading.cosine + over.wind.along_fps + flight.gust.along_fps;
  over.ground.cross_fps = horizontal_fps * over.heading.sine + over.wind.cross_fps + flight.gust.cross_fps;
  over.ground.speed_fps = square_root(over.ground.along_fps * over.ground.along_fps +
                                      over.ground.cross_fps * over.ground.cross_fps);
  return over;
}

/// Sink wanted in the flare: falls with height towards a hold-off just above the ground, and never less than
/// brings the wheels down when the speed has fallen to that of touchdown: a fast touchdown is flown on, not
/// held off.
template <class L>
GLIDEWRIGHT_INLINE L flare_climb_fps(const CommandsOf<L>& commands, const FlightStateOf<L>& state) {
  const L rate_per_s = commands.flare_sink_fps / larger(commands.flare_height_ft, L(1.0));
  const L closing = smaller(commands.flare_sink_fps, rate_per_s * (state.height_ft - k_hold_off_height_ft));
  const L speed_left_fps = larger(state.speed_fps - commands.touchdown_speed_fps, L(1.0));
  const L settling =
      limited(state.height_ft * k_float_deceleration_fps2 / speed_left_fps, L(0.0), L(k_settle_sink_fps));
  return -larger(closing, settling);
}

/// Bank towards a course, from the sine of the course error; past a right angle the turn stays at its limit.
template <class L>
GLIDEWRIGHT_INLINE L bank_for_course(const GroundVelocityOf<L>& ground, const L& sin_wanted,
                                     const L& cos_wanted, const L& bank_limit_rad) {
  constexpr double bank_per_course = 2.0;
  const L cross_product = (ground.along_fps * sin_wanted - ground.cross_fps * cos_wanted) / ground.speed_fps;
  const L ahead = ground.along_fps * cos_wanted + ground.cross_fps * sin_wanted;
  const L within = limited(bank_per_course * cross_product, -bank_limit_rad, bank_limit_rad);
  return choose(ahead < 0.0, choose(cross_product < 0.0, -bank_limit_rad, bank_limit_rad), within);
}

/// Bank that rolls out on the centreline from here: the circle tangent to it, then a straight chase of it.
///
/// A left-hand pattern comes to the centreline from the left (cross < 0) on a course right of it (0 to pi /
/// 2) and turns left: first on the circle that touches the centreline, then chasing it at an angle that
/// shrinks with the distance.
template <class L>
GLIDEWRIGHT_INLINE L centreline_bank(const FlightStateOf<L>& state, const GroundVelocityOf<L>& ground,
                                     const L& bank_limit_rad) {
  constexpr double chase_per_ft = 1.0 / 400.0;
  constexpr double steepest_chase_rad = 0.5;
  constexpr double chase_bank_rad = 0.35;
  constexpr double sine_at_hand_over = 0.43;
  const L room_ft = -state.cross_ft;
  const Mask<L> chasing = ground.cross_fps <= sine_at_hand_over * ground.speed_fps && ground.along_fps > 0.0;
  L bank = -bank_limit_rad;
  if (any(!chasing)) {
    // tan(bank) = V^2 / (g R), R = room / (1 - cos(course))
    const L tangent = ground.speed_fps * (ground.speed_fps - ground.along_fps) /
                      (k_gravity_fps2 * larger(room_ft, L(1e-3)));
    bank = choose(room_ft <= 0.0, bank, -smaller(arctangent(tangent), bank_limit_rad));
  }
  if (any(chasing)) {
    const L sin_wanted =
        gentle_arcsine(limited(room_ft * chase_per_ft, L(-steepest_chase_rad), L(steepest_chase_rad)));
    const L chase = bank_for_course(ground, sin_wanted, square_root(1.0 - sin_wanted * sin_wanted),
                                    smaller(bank_limit_rad, L(chase_bank_rad)));
    bank = choose(chasing, chase, bank);
  }
  return bank;
}

template <class L>
GLIDEWRIGHT_INLINE L wanted_bank(const FlightStateOf<L>& state, const CommandsOf<L>& commands,
                                 const GroundVelocityOf<L>& ground) {
  const Mask<L> capture = commands.lateral == CommandsOf<L>::Lateral::capture_centreline;
  L bank = 0.0;
  if (!all(capture))
    bank = bank_for_course(ground, commands.sin_course, commands.cos_course, commands.bank_limit_rad);
  if (any(capture)) bank = choose(capture, centreline_bank(state, ground, commands.bank_limit_rad), bank);
  return bank;
}

template <class L>
struct PathWanted {
  L path_rad;
  L lag_s;
};

template <class L>
GLIDEWRIGHT_INLINE PathWanted<L> wanted_path(const Handling& handling, const FlightStateOf<L>& state,
                                             const CommandsOf<L>& commands, const DragAtSpeed<L>& drag,
                                             const L& drag_factor, const L& turning_load,
                                             const L& shear_fps2_per_climb, const L& inverse_speed) {
  using Vertical = typename CommandsOf<L>::Vertical;
  const Mask<L> hold_height = commands.vertical == Vertical::hold_height;
  const Mask<L> hold_speed = commands.vertical == Vertical::hold_speed;
  const Mask<L> flare = commands.vertical == Vertical::flare;
  L sine = 0.0;
  if (any(hold_height)) {
    const L climb = limited(0.4 * (commands.height_ft - state.height_ft), L(-12.0), L(12.0));
    sine = limited(climb * inverse_speed, L(-0.4), L(0.4));
  }
  if (any(hold_speed)) {
    // dV/dt = -g (D/W + sin path) - shear * V sin path; solved for the path that gives the wanted dV/dt.
    const L net_drag = choose(
        commands.idle, drag_factor * drag.over_weight(turning_load) - state.thrust_over_weight, L(0.0));
    const L wanted_fps2 = (commands.speed_fps - state.speed_fps) * (1.0 / handling.speed_lag_s);
    const L per_sine = k_gravity_fps2 + shear_fps2_per_climb * state.speed_fps;
    const L keeping = (-k_gravity_fps2 * net_drag - wanted_fps2) / larger(per_sine, L(10.0));
    sine = choose(hold_speed, limited(keeping, L(-0.45), L(0.12)), sine);
  }
  L lag_s = handling.pitch_lag_s;
  if (any(flare)) {
    const L settling = limited(flare_climb_fps(commands, state) * inverse_speed, L(-0.4), L(0.4));
    sine = choose(flare, settling, sine);
    lag_s = choose(flare, L(handling.flare_pitch_lag_s), lag_s);
  }
  return {gentle_arcsine(sine), lag_s};
}

template <class L, class F>
GLIDEWRIGHT_INLINE L induced_remaining(const F& flight, const L& height_ft) {
  const L span_ft = flight.wing_span_ft();
  const L wing_ft = larger(height_ft, L(0.0)) + flight.wing_height_ft();
  const Mask<L> low = wing_ft <= 1.5 * span_ft;
  if (!any(low)) return L(1.0);
  return choose(low, 1.0 - ground_effect_cut_of(wing_ft / span_ft), L(1.0));
}

/// Time derivative of every component.
template <class L, class F>
GLIDEWRIGHT_INLINE FlightStateOf<L> derivative(const F& flight, const FlightStateOf<L>& state,
                                               const OverGroundOf<L>& over, const CommandsOf<L>& commands,
                                               ForcesOf<L>* forces) {
  const Handling& handling = flight.handling;
  const SineCosine<L> bank = sine_cosine_of_small(state.bank_rad);
  const L inverse_speed = 1.0 / state.speed_fps;
  const L equivalent_kt = flight.calibrated_kt(state.speed_fps);
  const L inverse_kt = flight.true_fps(inverse_speed);  // 1 / equivalent_kt: true_fps(1) / speed
  const DragAtSpeed<L> drag_here = drag_at_speed(
      flight.polar_shape(), flight.flap_polar_of(state), equivalent_kt * equivalent_kt,
      inverse_kt * inverse_kt, state.slip * flight.slip_factor, induced_remaining(flight, state.height_ft));

  const L inverse_cos_bank = 1.0 / bank.cosine;
  const L turning_load = over.path.cosine * inverse_cos_bank;
  // Headwind lost on the way down takes airspeed: this much dV/dt for each ft/s of climb.
  const L shear = (over.wind.along_per_s * over.heading.cosine + over.wind.cross_per_s * over.heading.sine) *
                  over.path.cosine;
  const PathWanted<L> path = wanted_path(handling, state, commands, drag_here, flight.drag_factor,
                                         turning_load, shear, inverse_speed);
  const L lift_available = 1.0 / drag_here.lift_share;
  const L pull_up = smaller(L(handling.pull_limit_g), lift_available * bank.cosine - over.path.cosine);
  const L per_g = k_gravity_fps2 * inverse_speed;
  const L path_rate = smaller(
      larger((path.path_rad - state.path_rad) / path.lag_s, -handling.pull_limit_g * per_g), pull_up * per_g);
  const L load_factor = larger(
      L(0.1), (over.path.cosine + state.speed_fps * path_rate * (1.0 / k_gravity_fps2)) * inverse_cos_bank);
  const L drag = flight.drag_factor * drag_here.over_weight(load_factor);

  FlightStateOf<L> rate;
  rate.along_ft = over.ground.along_fps;
  rate.cross_ft = over.ground.cross_fps;
  rate.height_ft = state.speed_fps * over.path.sine + flight.gust.up_fps;
  const L forward = choose(commands.idle, state.thrust_over_weight - drag, L(0.0));
  rate.speed_fps = k_gravity_fps2 * (forward - over.path.sine) - shear * rate.height_ft;
  rate.path_rad = path_rate;
  const L side_shear =
      (over.wind.cross_per_s * over.heading.cosine - over.wind.along_per_s * over.heading.sine) *
      rate.height_ft;
  rate.heading_rad =
      (k_gravity_fps2 * load_factor * bank.sine - side_shear) * inverse_speed / over.path.cosine;
  rate.bank_rad =
      limited((wanted_bank(state, commands, over.ground) - state.bank_rad) * (1.0 / handling.roll_lag_s),
              L(-handling.roll_rate_limit_rad_s), L(handling.roll_rate_limit_rad_s));
  rate.flap_deg = limited((commands.flap_deg - state.flap_deg) * 8.0, L(-handling.flap_rate_deg_s),
                          L(handling.flap_rate_deg_s));
  rate.slip =
      limited((commands.slip - state.slip) * 8.0, L(-handling.slip_rate_per_s), L(handling.slip_rate_per_s));
  rate.thrust_over_weight =
      choose(commands.idle, -state.thrust_over_weight * (1.0 / handling.power_fade_s), L(0.0));
  if (forces) *forces = {drag, load_factor};
  return rate;
}

template <class L>
GLIDEWRIGHT_INLINE FlightStateOf<L> moved(const FlightStateOf<L>& s, const FlightStateOf<L>& r, const L& t) {
  return {s.along_ft + t * r.along_ft,   s.cross_ft + t * r.cross_ft,
          s.height_ft + t * r.height_ft, s.speed_fps + t * r.speed_fps,
          s.path_rad + t * r.path_rad,   s.heading_rad + t * r.heading_rad,
          s.bank_rad + t * r.bank_rad,   s.flap_deg + t * r.flap_deg,
          s.slip + t * r.slip,           s.thrust_over_weight + t * r.thrust_over_weight};
}

}  // namespace glidewright::equations

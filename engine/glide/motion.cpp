#include "engine/glide/motion.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace glidewright {
namespace {

constexpr double k_hold_off_height_ft = 1.0;
constexpr double k_settle_sink_fps = 2.0;

/// Arc sine to 1e-4 up to 0.45: what a pilot aims the path at need not be finer, and it costs no library
/// call.
double gentle_arcsine(double x) {
  return x * (1.0 + x * x * (1.0 / 6.0 + x * x * 3.0 / 40.0));
}

struct SineCosine {
  double sine;
  double cosine;
};

/// Of an angle within +-1 rad (path and bank), by the series: error below 1e-12, several times cheaper than
/// the library's, which has to reduce its argument.
SineCosine of_small_angle(double x) {
  const double q = x * x;
  const double sine =
      x * (1.0 - q / 6.0 *
                     (1.0 - q / 20.0 *
                                (1.0 - q / 42.0 * (1.0 - q / 72.0 * (1.0 - q / 110.0 * (1.0 - q / 156.0))))));
  const double cosine =
      1.0 -
      q / 2.0 *
          (1.0 - q / 12.0 *
                     (1.0 - q / 30.0 *
                                (1.0 - q / 56.0 * (1.0 - q / 90.0 * (1.0 - q / 132.0 * (1.0 - q / 182.0))))));
  return {sine, cosine};
}

/// Sink wanted in the flare: falls with height, holds off just above the ground, settles below touchdown
/// speed.
double flare_climb_fps(const Commands& commands, const FlightState& state) {
  const double rate_per_s = commands.flare_sink_fps / std::max(commands.flare_height_ft, 1.0);
  const double closing =
      std::min(commands.flare_sink_fps, rate_per_s * (state.height_ft - k_hold_off_height_ft));
  // Settling from the hold-off height takes about a second, in which some 3 ft/s of speed go.
  constexpr double settle_lead_fps = 5.0, settle_band_fps = 2.0;
  const double slow = std::clamp(
      (commands.touchdown_speed_fps + settle_lead_fps - state.speed_fps) / settle_band_fps, 0.0, 1.0);
  return -std::max(closing, k_settle_sink_fps * slow);
}

struct PathWanted {
  double path_rad;
  double lag_s;
};

PathWanted wanted_path(const Flight& flight, const FlightState& state, const Commands& commands,
                       double net_drag_over_weight, double shear_fps2_per_climb) {
  const Handling& handling = flight.handling;
  switch (commands.vertical) {
    case Commands::Vertical::hold_height: {
      const double climb = std::clamp(0.4 * (commands.height_ft - state.height_ft), -12.0, 12.0);
      return {gentle_arcsine(std::clamp(climb / state.speed_fps, -0.4, 0.4)), handling.pitch_lag_s};
    }
    case Commands::Vertical::hold_speed: {
      // dV/dt = -g (D/W + sin path) - shear * V sin path; solved for the path that gives the wanted dV/dt.
      const double wanted_fps2 = (commands.speed_fps - state.speed_fps) / handling.speed_lag_s;
      const double per_sine = k_gravity_fps2 + shear_fps2_per_climb * state.speed_fps;
      const double sine = (-k_gravity_fps2 * net_drag_over_weight - wanted_fps2) / std::max(per_sine, 10.0);
      return {gentle_arcsine(std::clamp(sine, -0.45, 0.12)), handling.pitch_lag_s};
    }
    case Commands::Vertical::flare:
      break;
  }
  return {gentle_arcsine(std::clamp(flare_climb_fps(commands, state) / state.speed_fps, -0.4, 0.4)),
          handling.flare_pitch_lag_s};
}

/// Bank towards a course, from the sine of the course error; past a right angle the turn stays at its limit.
double bank_for_course(const GroundVelocity& ground, double sin_wanted, double cos_wanted,
                       double bank_limit_rad) {
  constexpr double bank_per_course = 2.0;
  const double cross_product =
      (ground.along_fps * sin_wanted - ground.cross_fps * cos_wanted) / ground.speed_fps;
  const double ahead = ground.along_fps * cos_wanted + ground.cross_fps * sin_wanted;
  if (ahead < 0.0) return cross_product < 0.0 ? -bank_limit_rad : bank_limit_rad;
  return std::clamp(bank_per_course * cross_product, -bank_limit_rad, bank_limit_rad);
}

double wanted_bank(const FlightState& state, const Commands& commands, const GroundVelocity& ground) {
  if (commands.lateral == Commands::Lateral::capture_centreline) {
    return centreline_bank(state, ground, commands.bank_limit_rad);
  }
  return bank_for_course(ground, commands.sin_course, commands.cos_course, commands.bank_limit_rad);
}

GroundVelocity over_ground(double horizontal_fps, SineCosine heading, const LocalWind& wind) {
  GroundVelocity ground;
  ground.along_fps = horizontal_fps * heading.cosine + wind.along_fps;
  ground.cross_fps = horizontal_fps * heading.sine + wind.cross_fps;
  ground.speed_fps = std::sqrt(ground.along_fps * ground.along_fps + ground.cross_fps * ground.cross_fps);
  return ground;
}

}  // namespace

GroundVelocity ground_velocity(const Flight& flight, const FlightState& state) {
  return over_ground(state.speed_fps * std::cos(state.path_rad),
                     {std::sin(state.heading_rad), std::cos(state.heading_rad)},
                     flight.wind.at(state.height_ft));
}

double centreline_bank(const FlightState& state, const GroundVelocity& ground, double bank_limit_rad) {
  // A left-hand pattern comes to the centreline from the left (cross < 0) on a course right of it (0 to pi /
  // 2) and turns left: first on the circle that touches the centreline, then chasing it at an angle that
  // shrinks with the distance.
  constexpr double chase_per_ft = 1.0 / 400.0;
  constexpr double steepest_chase_rad = 0.5;
  constexpr double chase_bank_rad = 0.35;
  constexpr double sine_at_hand_over = 0.43;
  const double room_ft = -state.cross_ft;
  const double sine = ground.cross_fps / ground.speed_fps, cosine = ground.along_fps / ground.speed_fps;
  if (sine <= sine_at_hand_over && cosine > 0.0) {
    const double wanted = std::clamp(room_ft * chase_per_ft, -steepest_chase_rad, steepest_chase_rad);
    const double sin_wanted = gentle_arcsine(wanted);
    return bank_for_course(ground, sin_wanted, std::sqrt(1.0 - sin_wanted * sin_wanted),
                           std::min(bank_limit_rad, chase_bank_rad));
  }
  if (room_ft <= 0.0) return -bank_limit_rad;
  const double radius_ft = room_ft / (1.0 - cosine);
  const double bank = std::atan(ground.speed_fps * ground.speed_fps / (k_gravity_fps2 * radius_ft));
  return -std::min(bank, bank_limit_rad);
}

FlightState derivative(const Flight& flight, const FlightState& state, const Commands& commands,
                       Forces* forces) {
  const Handling& handling = flight.handling;
  const Airplane& airplane = *flight.airplane;
  const LocalWind wind = flight.wind.at(state.height_ft);
  const auto [sin_path, cos_path] = of_small_angle(state.path_rad);
  const double sin_heading = std::sin(state.heading_rad), cos_heading = std::cos(state.heading_rad);
  const GroundVelocity ground = over_ground(state.speed_fps * cos_path, {sin_heading, cos_heading}, wind);
  const auto [sin_bank, cos_bank] = of_small_angle(state.bank_rad);
  const double equivalent_kt = flight.calibrated_kt(state.speed_fps);
  const FlapPolar flap = airplane.polar.at_flap(state.flap_deg);
  const double wing_ft = std::max(state.height_ft, 0.0) + airplane.wing_height_ft;
  const double induced_remaining =
      wing_ft > 1.5 * airplane.wing_span_ft ? 1.0 : 1.0 - ground_effect_cut(wing_ft / airplane.wing_span_ft);

  const auto drag_at = [&](double load_factor) {
    return flight.drag_factor * airplane.polar.drag_over_weight(flap, equivalent_kt, flight.weight_lb,
                                                                state.slip * flight.slip_factor, load_factor,
                                                                induced_remaining);
  };
  const double turning_load = cos_path / cos_bank;
  // Headwind lost on the way down takes airspeed: this much dV/dt for each ft/s of climb.
  const double shear = (wind.along_per_s * cos_heading + wind.cross_per_s * sin_heading) * cos_path;
  const bool powered_level = !commands.idle;
  const double net_drag = powered_level ? 0.0 : drag_at(turning_load) - state.thrust_over_weight;

  const auto [path_wanted, lag_s] = wanted_path(flight, state, commands, net_drag, shear);
  const double stall_squared =
      flap.stall_kcas * flap.stall_kcas * flight.weight_lb / airplane.polar.reference_weight_lb;
  const double lift_available = equivalent_kt * equivalent_kt / stall_squared;
  const double pull_up = std::min(handling.pull_limit_g, lift_available * cos_bank - cos_path);
  const double path_rate = std::clamp((path_wanted - state.path_rad) / lag_s,
                                      -handling.pull_limit_g * k_gravity_fps2 / state.speed_fps,
                                      pull_up * k_gravity_fps2 / state.speed_fps);
  const double load_factor =
      std::max(0.1, (cos_path + state.speed_fps * path_rate / k_gravity_fps2) / cos_bank);
  const double drag = drag_at(load_factor);

  FlightState rate;
  rate.along_ft = ground.along_fps;
  rate.cross_ft = ground.cross_fps;
  rate.height_ft = state.speed_fps * sin_path;
  const double forward = powered_level ? 0.0 : state.thrust_over_weight - drag;
  rate.speed_fps = k_gravity_fps2 * (forward - sin_path) - shear * rate.height_ft;
  rate.path_rad = path_rate;
  const double side_shear =
      (wind.cross_per_s * cos_heading - wind.along_per_s * sin_heading) * rate.height_ft;
  rate.heading_rad =
      (k_gravity_fps2 * load_factor * sin_bank / cos_path - side_shear / cos_path) / state.speed_fps;
  rate.bank_rad = std::clamp((wanted_bank(state, commands, ground) - state.bank_rad) / handling.roll_lag_s,
                             -handling.roll_rate_limit_rad_s, handling.roll_rate_limit_rad_s);
  rate.flap_deg = std::clamp((commands.flap_deg - state.flap_deg) * 8.0, -handling.flap_rate_deg_s,
                             handling.flap_rate_deg_s);
  rate.slip =
      std::clamp((commands.slip - state.slip) * 8.0, -handling.slip_rate_per_s, handling.slip_rate_per_s);
  rate.thrust_over_weight = commands.idle ? -state.thrust_over_weight / handling.power_fade_s : 0.0;
  if (forces) *forces = {drag, load_factor};
  return rate;
}

namespace {

FlightState moved(const FlightState& s, const FlightState& r, double t) {
  return {s.along_ft + t * r.along_ft,   s.cross_ft + t * r.cross_ft,
          s.height_ft + t * r.height_ft, s.speed_fps + t * r.speed_fps,
          s.path_rad + t * r.path_rad,   s.heading_rad + t * r.heading_rad,
          s.bank_rad + t * r.bank_rad,   s.flap_deg + t * r.flap_deg,
          s.slip + t * r.slip,           s.thrust_over_weight + t * r.thrust_over_weight};
}

}  // namespace

FlightState runge_kutta4(const Flight& flight, const FlightState& state, const Commands& commands,
                         double step_s) {
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

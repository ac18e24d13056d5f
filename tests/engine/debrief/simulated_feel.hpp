#pragma once
// A whole pattern flown about a simulated landing, and what a phone in the cockpit feels of it: struts and
// tyres as springs, a runway's roughness, a powerplant's harmonics, gusts, a loose holder, an uneven clock.
//
// Built from the mechanics and not from the estimator: nothing here is drawn from levels, states or log
// powers. No record of a real phone was at hand; ranges are common practice for light trainers, set wide.

#include <array>
#include <cmath>
#include <numbers>
#include <optional>
#include <random>
#include <vector>

#include "engine/accelerometer/accelerometer.hpp"
#include "simulated_landing.hpp"

namespace glidewright::testing {

inline constexpr double k_path_step_s = 0.05;

/// One moment of the flight; times as in the landing's own path, which it contains.
struct FlightPoint {
  double time_s = 0.0;
  double along_ft = 0.0, cross_ft = 0.0, height_ft = 0.0;
  double groundspeed_fps = 0.0;
  double course_rad = 0.0;  ///< from the runway's direction, right positive
  double bank_rad = 0.0;
  double pitch_deg = 0.0;
  double forward_fps2 = 0.0, upward_fps2 = 0.0;  ///< without gusts and struts
  bool on_ground = false;
};

struct SimulatedFlight {
  SimulatedLanding landing;
  std::vector<FlightPoint> path;  ///< each 0.05 s
  double lift_off_s = 1e9;        ///< of a touch-and-go, after the landing
};

/// From parked before take-off, once round to the left, the landing, and what follows.
inline SimulatedFlight fly_round(const SimulatedLanding& landing, Dice& dice) {
  constexpr double dt = k_path_step_s, kt = k_fps_per_knot;
  SimulatedFlight flight{landing, {}, 1e9};
  // Backwards from where the landing begins.
  std::vector<FlightPoint> before;
  FlightPoint p;
  p.time_s = landing.path.front().time_s;
  p.along_ft = landing.path.front().along_ft;
  p.height_ft = landing.path.front().height_ft;
  p.groundspeed_fps = landing.path.front().groundspeed_fps;
  p.pitch_deg = landing.path.front().pitch_deg;
  const double final_fps = p.groundspeed_fps, downwind_fps = dice.uniform(78.0, 95.0) * kt,
               climb_fps = dice.uniform(62.0, 78.0) * kt, lift_off_fps = dice.uniform(50.0, 60.0) * kt;
  const double sink_fps = landing.recipe.approach_sink_fps, climb_rate_fps = dice.uniform(9.0, 15.0);
  const double top_ft = p.height_ft + dice.uniform(550.0, 750.0);
  const double bank_deg[4] = {dice.uniform(15.0, 35.0), dice.uniform(15.0, 35.0), dice.uniform(15.0, 30.0),
                              dice.uniform(12.0, 25.0)};
  const double roll_rate_deg_s = dice.uniform(6.0, 15.0);
  const double leg_s[3] = {dice.uniform(0.0, 15.0), dice.uniform(8.0, 25.0), dice.uniform(50.0, 80.0)};
  Wander hand(dice.uniform(0.5, 2.0) / 57.3, dice.uniform(1.5, 4.0), dice);
  Wander surge(dice.uniform(0.2, 1.2), dice.uniform(1.5, 4.0), dice);
  int leg = 0;
  double in_leg_s = 0.0, bank = 0.0, turned = 0.0, level_s = 0.0;
  bool turning = false, climbing = false, airborne = true;
  double parked_s = 0.0, previous_up = -sink_fps;
  const double take_off_fps2 = dice.uniform(5.5, 9.0), park_s = dice.uniform(15.0, 40.0);
  while (parked_s < park_s && before.size() < 14000) {
    double forward = 0.0, up = 0.0;
    if (airborne) {
      // The crosswind leg ends where its turn leads back onto the runway.
      const double radius_ft =
          p.groundspeed_fps * p.groundspeed_fps / (k_gravity_fps2 * std::tan(bank_deg[3] / 57.3));
      const bool leg_flown = leg < 3 ? in_leg_s > leg_s[leg] : p.cross_ft > -1.1 * radius_ft;
      if (!turning && leg < 4 && leg_flown) turning = true, in_leg_s = 0.0, turned = 0.0;
      const double wanted = turning ? -bank_deg[leg] / 57.3 : 0.0;  // left
      const double rate = k_gravity_fps2 * std::tan(bank) / p.groundspeed_fps;
      // Roll out so that the quarter turn ends level.
      const double still = std::abs(rate) * 0.5 * std::abs(bank) / (roll_rate_deg_s / 57.3);
      const bool out = turning && std::abs(turned) + still > 0.5 * std::numbers::pi;
      const double to = out ? 0.0 : wanted;
      const double step = roll_rate_deg_s / 57.3 * dt;
      bank += std::clamp(to - bank, -step, step);
      if (out && std::abs(bank) < 0.02) turning = false, ++leg, in_leg_s = 0.0, bank = 0.0;
      turned += rate * dt;
      in_leg_s += dt;
      if (leg >= 2 && !climbing) level_s += dt;
      if (level_s > 25.0 + 0.4 * leg_s[2] && leg >= 2) climbing = true;
      const double wanted_fps = leg == 0   ? final_fps
                                : leg == 1 ? final_fps + 10.0
                                : climbing ? climb_fps
                                           : downwind_fps;
      forward = -std::clamp((wanted_fps - p.groundspeed_fps) / 6.0, -3.0, 3.0);
      up = climbing ? climb_rate_fps : p.height_ft < top_ft ? -sink_fps : 0.0;
      up = previous_up + std::clamp(up - previous_up, -3.0 * dt, 3.0 * dt);
      if (climbing && p.height_ft < 15.0) up = std::max(std::min(up, 1.0 + 0.8 * p.height_ft), 0.3);
      p.course_rad -= k_gravity_fps2 * std::tan(bank + hand.step(dt, dice)) / p.groundspeed_fps * dt;
      // A pilot holds the course of a leg, and the runway's line.
      if (!turning) p.course_rad -= (p.course_rad - 0.5 * std::numbers::pi * leg) * dt / 6.0;
      if (leg == 4) p.cross_ft -= p.cross_ft * dt / 12.0;
      forward += surge.step(dt, dice);
      if (climbing && p.height_ft <= 0.0) {
        airborne = false;
        bank = 0.0;
        p.height_ft = 0.0;
        p.groundspeed_fps = std::max(p.groundspeed_fps, lift_off_fps);
      }
    }
    if (!airborne) {
      up = 0.0;
      forward =
          p.groundspeed_fps > 0.0 ? take_off_fps2 * (1.25 - 0.5 * p.groundspeed_fps / lift_off_fps) : 0.0;
      if (p.groundspeed_fps <= 0.0) parked_s += dt;
    }
    FlightPoint q = p;
    q.time_s = p.time_s - dt;
    q.bank_rad = airborne ? bank : 0.0;
    q.groundspeed_fps = std::max(p.groundspeed_fps - forward * dt, 0.0);
    q.along_ft -= q.groundspeed_fps * std::cos(q.course_rad) * dt;
    q.cross_ft -= q.groundspeed_fps * std::sin(q.course_rad) * dt;
    q.height_ft = airborne ? std::max(p.height_ft - up * dt, 0.0) : 0.0;
    q.forward_fps2 = forward;
    q.upward_fps2 = airborne ? (previous_up - up) / dt : 0.0;
    q.pitch_deg = airborne ? (climbing   ? 7.0
                              : leg == 2 ? 2.0
                                         : landing.path.front().pitch_deg)
                           : landing.recipe.rolling_pitch_deg;
    q.on_ground = !airborne;
    previous_up = up;
    before.push_back(q);
    p = q;
  }
  flight.path.assign(before.rbegin(), before.rend());
  // The landing's own path. Its sink is smooth to a third of a second in the air; on the ground there is
  // none.
  const auto& own = landing.path;
  const auto down = [&](double t) { return t >= landing.touchdown_s; };
  for (std::size_t i = 0; i < own.size(); ++i) {
    FlightPoint q;
    q.time_s = own[i].time_s;
    q.along_ft = own[i].along_ft;
    q.height_ft = own[i].height_ft;
    q.groundspeed_fps = own[i].groundspeed_fps;
    q.pitch_deg = own[i].pitch_deg;
    const bool lifted = down(q.time_s) && landing.recipe.power_after_s < 100.0 &&
                        q.time_s > landing.touchdown_s + 2.0 && q.height_ft > 0.0;
    if (lifted && flight.lift_off_s > 1e8) flight.lift_off_s = q.time_s;
    q.on_ground = down(q.time_s) && q.height_ft <= 0.0;
    const std::size_t a = i >= 4 ? i - 4 : 0, b = std::min(i + 4, own.size() - 1);
    if (b > a)
      q.forward_fps2 = (own[b].groundspeed_fps - own[a].groundspeed_fps) / (dt * static_cast<double>(b - a));
    const auto sink = [&](std::size_t from) {
      const std::size_t to = std::min(from + 6, own.size() - 1);
      return to > from ? (own[from].height_ft - own[to].height_ft) / (dt * static_cast<double>(to - from))
                       : 0.0;
    };
    if (!down(q.time_s) && i >= 8 && !down(q.time_s + 6 * dt))
      q.upward_fps2 = (sink(i - 6) - sink(i)) / (6 * dt);
    flight.path.push_back(q);
  }
  // What follows: climbs away, or rolls out and turns off.
  const bool away = flight.lift_off_s < 1e8;
  const double turn_off_s = dice.uniform(3.0, 10.0), after_s = away ? 70.0 : 30.0;
  FlightPoint q = flight.path.back();
  double roll = 0.0;
  for (double t = 0.0; t < after_s; t += dt) {
    q.time_s += dt;
    q.on_ground = !away;
    if (away) {
      roll += std::clamp((t > 35.0 && t < 50.0 ? -0.35 : 0.0) - roll, -0.15 * dt, 0.15 * dt);
      q.bank_rad = roll;
      q.course_rad += k_gravity_fps2 * std::tan(roll) / q.groundspeed_fps * dt;
      q.upward_fps2 = q.height_ft < 25.0 ? 4.0 : 0.0;
      q.height_ft += climb_rate_fps * dt;
      q.forward_fps2 = surge.step(dt, dice);
    } else {
      q.forward_fps2 = std::clamp(12.0 - q.groundspeed_fps, -3.0, 2.0);
      if (t > turn_off_s && q.course_rad < 1.5) q.course_rad += 12.0 / 50.0 * dt;
    }
    q.groundspeed_fps = std::max(q.groundspeed_fps + q.forward_fps2 * dt, 0.0);
    q.along_ft += q.groundspeed_fps * std::cos(q.course_rad) * dt;
    q.cross_ft += q.groundspeed_fps * std::sin(q.course_rad) * dt;
    flight.path.push_back(q);
  }
  return flight;
}

/// The receiver's log of the whole flight.
inline TrackLog record_flight(const SimulatedFlight& flight, const RunwayFrame& frame, double rate_hz,
                              double shift_ft, GroundspeedColumn column, Dice& dice) {
  const Receiver device = random_receiver(dice);
  const double metre = 1.0 / k_metres_per_foot, every_s = 1.0 / rate_hz;
  Wander along(device.wander_m, device.wander_memory_s, dice),
      cross(device.wander_m, device.wander_memory_s, dice),
      height(device.height_wander_m, device.height_memory_s, dice);
  TrackLog log;
  log.format = "gpx";
  const double first_s = flight.path.front().time_s + dice.uniform(0.0, every_s);
  for (double t = first_s; t < flight.path.back().time_s; t += every_s) {
    const double at = (t - flight.path.front().time_s) / k_path_step_s;
    const auto i = std::min(static_cast<std::size_t>(at), flight.path.size() - 2);
    const FlightPoint &a = flight.path[i], &b = flight.path[i + 1];
    const double part = at - static_cast<double>(i);
    const auto mix = [part](double x, double y) { return x + part * (y - x); };
    Fix fix;
    fix.time_unix_s = k_simulated_start_unix_s + t;
    const double true_along_ft = mix(a.along_ft, b.along_ft) - shift_ft;
    fix.place = frame.to_geodetic(
        {true_along_ft + metre * (along.step(every_s, dice) + dice.normal(0.0, device.white_m)),
         mix(a.cross_ft, b.cross_ft) +
             metre * (cross.step(every_s, dice) + dice.normal(0.0, device.white_m))});
    fix.altitude_ft =
        frame.point_elevation_ft() + true_along_ft * flight.landing.recipe.slope_percent / 100.0 +
        mix(a.height_ft, b.height_ft) + 4.1 +
        metre * (device.height_bias_m + height.step(every_s, dice) + dice.normal(0.0, device.height_white_m));
    if (column == GroundspeedColumn::recorded)
      fix.groundspeed_kt = mix(a.groundspeed_fps, b.groundspeed_fps) / k_fps_per_knot +
                           dice.normal(0.0, device.speed_white_kt);
    log.fixes.push_back(fix);
  }
  return log;
}

/// How the phone is held, what it writes, and what shakes the airplane.
struct PhoneRecipe {
  double rate_hz = 100.0;
  double jitter = 0.1;  ///< of the time between two readings
  double lost = 0.002;
  double noise_mps2 = 0.03;
  bool with_gravity = true;
  double ahead_s = 0.0;
  double drift_ppm = 0.0;
  double holder_hz = 15.0, holder_damping = 0.2;  ///< a mass on a spring
  double slip_deg = 0.0;                          ///< the phone shifts at the touchdown
  double gust_mps2 = 0.4, gust_memory_s = 0.4;
  double bumps_per_s = 0.03, bump_mps2 = 2.0;
  double powerplant_mps2 = 0.3, idle_rpm = 1050.0;
  double flap_motor_from_s = 1e9, flap_motor_s = 4.0, flap_motor_hz = 33.0;  ///< before the touchdown
  double strut_hz = 2.0, strut_damping = 0.25;
  double tyre_hz = 13.0, tyre_damping = 0.12;
  double roughness_mps2 = 0.8;  ///< at 50 kt, all weight on the wheels
  double joint_every_ft = 1e9;  ///< slabs of concrete
  double settles_s = 1.5;       ///< until the wings carry nothing
};

inline PhoneRecipe random_phone(Dice& dice) {
  PhoneRecipe r;
  constexpr std::array<double, 5> rates{25.0, 50.0, 100.0, 200.0, 400.0};
  r.rate_hz = rates[static_cast<std::size_t>(dice.uniform(0.0, 4.999))] * dice.uniform(0.97, 1.03);
  r.jitter = dice.uniform(0.0, 0.3);
  r.lost = dice.uniform(0.0, 0.02);
  r.noise_mps2 = dice.uniform(0.01, 0.08);
  r.with_gravity = dice.chance(0.7);
  r.ahead_s = dice.chance(0.85) ? dice.normal(0.0, 1.5) : dice.uniform(-200.0, 200.0);
  r.drift_ppm = dice.normal(0.0, 15.0);
  r.holder_hz = dice.uniform(5.0, 40.0);
  r.holder_damping = dice.uniform(0.05, 0.7);
  r.slip_deg = dice.chance(0.15) ? dice.uniform(3.0, 25.0) : 0.0;
  r.gust_mps2 = dice.lognormal(0.3, 0.7);
  r.gust_memory_s = dice.uniform(0.15, 0.8);
  r.bumps_per_s = dice.uniform(0.0, 0.1);
  r.bump_mps2 = dice.uniform(0.8, 3.0);
  r.powerplant_mps2 = dice.lognormal(0.25, 0.7);
  r.idle_rpm = dice.uniform(850.0, 1400.0);
  if (dice.chance(0.35)) r.flap_motor_from_s = dice.uniform(3.0, 25.0);
  r.flap_motor_s = dice.uniform(2.0, 6.0);
  r.flap_motor_hz = dice.uniform(15.0, 60.0);
  r.strut_hz = dice.uniform(1.4, 3.0);
  r.strut_damping = dice.uniform(0.1, 0.5);
  r.tyre_hz = dice.uniform(9.0, 20.0);
  r.tyre_damping = dice.uniform(0.05, 0.25);
  r.roughness_mps2 = dice.lognormal(0.9, 0.5);
  if (dice.chance(0.3)) r.joint_every_ft = dice.uniform(15.0, 40.0);
  r.settles_s = dice.uniform(0.5, 3.0);
  return r;
}

/// A mass on a spring and a damper, driven by an acceleration of its foot; semi-implicit, steps of 1 ms or
/// so.
class Spring {
 public:
  Spring(double hz, double damping) : w_(2.0 * std::numbers::pi * hz), damping_(damping) {}
  /// Acceleration of the mass when its foot has this one.
  double step(double foot, double dt) {
    const double relative = -w_ * w_ * x_ - 2.0 * damping_ * w_ * v_ - foot;
    v_ += relative * dt;
    x_ += v_ * dt;
    return relative + foot;
  }

 private:
  double w_, damping_, x_ = 0.0, v_ = 0.0;
};

struct PhoneReading {
  double time_s = 0.0;  ///< by the phone's clock, Unix
  std::array<double, 3> mps2{};
};

/// Every reading of the whole flight.
inline std::vector<PhoneReading> feel(const SimulatedFlight& flight, const PhoneRecipe& r, Dice& dice) {
  constexpr double dt = 0.00125, m = k_metres_per_foot, g = 9.80665;
  const double touchdown_s = flight.landing.touchdown_s;
  // How it lies: any way at all.
  double q[4];
  double norm = 0.0;
  for (double& one : q) one = dice.normal(0.0, 1.0), norm += one * one;
  for (double& one : q) one /= std::sqrt(norm);
  const double w = q[0], x = q[1], y = q[2], z = q[3];
  std::array<std::array<double, 3>, 3> lies{
      {{1 - 2 * (y * y + z * z), 2 * (x * y - z * w), 2 * (x * z + y * w)},
       {2 * (x * y + z * w), 1 - 2 * (x * x + z * z), 2 * (y * z - x * w)},
       {2 * (x * z - y * w), 2 * (y * z + x * w), 1 - 2 * (x * x + y * y)}}};
  std::mt19937 fast(static_cast<unsigned>(dice.uniform(0.0, 4e9)));
  std::normal_distribution<double> white;
  std::uniform_real_distribution<double> unit;
  std::array<Spring, 3> holder{Spring(r.holder_hz, r.holder_damping),
                               Spring(1.3 * r.holder_hz, r.holder_damping),
                               Spring(0.8 * r.holder_hz, r.holder_damping)};
  Spring strut(r.strut_hz, r.strut_damping), tyre(r.tyre_hz, r.tyre_damping), cabin(24.0, 0.08),
      wing(6.5, 0.1);
  // Scaled once so that `roughness` is what the cabin feels at 50 kt.
  double drive = 1.0;
  {
    Spring a(r.strut_hz, r.strut_damping), b(r.tyre_hz, r.tyre_damping);
    double squares = 0.0;
    constexpr int n = 16000;
    for (int i = 0; i < n; ++i) {
      const double felt = a.step(b.step(white(fast) / std::sqrt(dt), dt), dt);
      squares += felt * felt / n;
    }
    drive = 1.0 / std::sqrt(squares);
  }
  double leg_m = 0.0, leg_mps = 0.0;  // how far the struts are pressed, from the first contact on
  bool legs_down = false;
  double gust = 0.0, side_gust = 0.0, patch = 0.0, bump_left_s = 0.0, bump_s = 0.4, bump = 0.0, phase = 0.0,
         motor = 0.0, rpm_off = 0.0, next_joint_ft = 0.0, joint_left_s = 0.0;
  std::array<double, 3> gravity{};
  bool first_reading = true;
  std::vector<PhoneReading> readings;
  const double start_s = flight.path.front().time_s, end_s = flight.path.back().time_s - 0.2;
  double next_s = start_s;
  bool was_on_ground = true;
  for (double t = start_s; t < end_s; t += dt) {
    const double at = (t - start_s) / k_path_step_s;
    const auto i = std::min(static_cast<std::size_t>(at), flight.path.size() - 2);
    const FlightPoint& p = flight.path[i];
    const bool landed = t >= touchdown_s && t < flight.lift_off_s;
    // A bounce of the recipe begins with a contact of a fifth of a second.
    const bool contact =
        landed ? (p.height_ft <= 0.0 || t < touchdown_s + 0.2) : p.on_ground && t < touchdown_s;
    const double speed_kt = p.groundspeed_fps / k_fps_per_knot;

    // Gusts, in patches; single bumps.
    patch += -patch * dt / 6.0 + std::sqrt(2.0 * dt / 6.0) * white(fast);
    const double strength = r.gust_mps2 * std::exp(0.5 * patch) * std::min(1.0, speed_kt / 50.0);
    gust += -gust * dt / r.gust_memory_s + strength * std::sqrt(2.0 * dt / r.gust_memory_s) * white(fast);
    side_gust += -side_gust * dt / 0.6 + 0.4 * strength * std::sqrt(2.0 * dt / 0.6) * white(fast);
    if (bump_left_s <= 0.0 && !contact && unit(fast) < r.bumps_per_s * dt)
      bump_s = bump_left_s = 0.25 + 0.4 * unit(fast),
      bump = (unit(fast) < 0.5 ? -1.0 : 1.0) * r.bump_mps2 * unit(fast);
    const double jolt = bump_left_s > 0.0 ? bump * std::sin(std::numbers::pi * bump_left_s / bump_s) : 0.0;
    bump_left_s -= dt;
    const double air = contact ? 0.25 * gust : gust + jolt;
    const double shaken_wing = wing.step(air, dt) - air;

    // Struts: the sink of the first contact, later ones as steps of the path.
    double struts = 0.0;
    const double weight = !contact ? 0.0
                          : landed ? 0.25 + 0.75 * std::clamp((t - touchdown_s) / r.settles_s, 0.0, 1.0)
                                   : std::clamp(1.3 - speed_kt / 60.0, 0.3, 1.0);
    if (contact && !was_on_ground && landed) {
      const auto b =
          static_cast<std::size_t>(std::max(0.0, (std::min(t, touchdown_s) - start_s) / k_path_step_s));
      const double sink_fps = t < touchdown_s + 0.1
                                  ? std::max(0.05, (flight.path[b - 4].height_ft - flight.path[b].height_ft) /
                                                       (4 * k_path_step_s))
                                  : std::sqrt(2.0 * 6.0 * flight.landing.recipe.bounce_ft);
      leg_mps = m * sink_fps;
      legs_down = true;
    }
    was_on_ground = contact;
    if (legs_down) {
      const double w0 = 2.0 * std::numbers::pi * r.strut_hz;
      struts = -w0 * w0 * leg_m - 2.0 * r.strut_damping * w0 * leg_mps;
      leg_mps += struts * dt;
      leg_m += leg_mps * dt;
      // Off the ground they only ring out in the legs.
      if (!contact) struts *= 0.1;
    }
    // The runway: white in its slope, so that what shakes grows with the root of speed; slabs; the tyre.
    double ground = 0.0, sideways = 0.0;
    const double rolls = contact ? std::sqrt(std::max(speed_kt, 0.0) / 50.0) * weight : 0.0;
    double road = rolls * r.roughness_mps2 * drive * white(fast) / std::sqrt(dt);
    if (contact && p.along_ft > next_joint_ft) {
      next_joint_ft = p.along_ft + r.joint_every_ft * (0.98 + 0.04 * unit(fast));
      if (r.joint_every_ft < 1e3) joint_left_s = 0.02;
    }
    if (joint_left_s > 0.0) road += 6.0 * r.roughness_mps2 * rolls, joint_left_s -= dt;
    ground = strut.step(tyre.step(road, dt), dt);
    sideways = 0.3 * rolls * r.roughness_mps2 * cabin.step(white(fast) * 3.0, dt);

    // Powerplant: at power until abeam and after a touch-and-go, else idling faster the faster the air turns
    // it.
    const bool power = t < touchdown_s - 80.0 ? speed_kt > 5.0 || t < start_s + 10.0
                                              : t > touchdown_s + flight.landing.recipe.power_after_s;
    rpm_off += -rpm_off * dt / 3.0 + 12.0 * std::sqrt(2.0 * dt / 3.0) * white(fast);
    const double rpm = (power ? 2350.0 : r.idle_rpm * (0.75 + 0.25 * speed_kt / 60.0)) + rpm_off;
    phase += 2.0 * std::numbers::pi * rpm / 60.0 * dt;
    const double size = r.powerplant_mps2 * (power ? 2.0 : 1.0);
    const double shakes = size * (0.6 * std::sin(0.5 * phase + 0.4) + 0.5 * std::sin(phase) +
                                  0.8 * std::sin(2.0 * phase + 1.1));
    const double before = touchdown_s - t;
    const bool flaps_run = before < r.flap_motor_from_s && before > r.flap_motor_from_s - r.flap_motor_s;
    motor += 2.0 * std::numbers::pi * r.flap_motor_hz * dt;
    const double whines = flaps_run ? 0.35 * std::sin(motor) : 0.0;

    // Specific force: forward, right, down as the seat has them.
    const double turn_fps2 =
        p.groundspeed_fps * (flight.path[std::min(i + 1, flight.path.size() - 1)].course_rad - p.course_rad) /
        k_path_step_s;
    const double pitch = p.pitch_deg / 57.3;
    const double up = g + m * p.upward_fps2 + air - struts + ground;
    const double side = m * turn_fps2;
    const double lift = up * std::cos(p.bank_rad) + side * std::sin(p.bank_rad);
    const double slide = side * std::cos(p.bank_rad) - up * std::sin(p.bank_rad);
    const double ahead = m * p.forward_fps2;
    std::array<double, 3> seat{
        ahead * std::cos(pitch) + lift * std::sin(pitch) + 0.3 * shakes + 0.2 * ground,
        slide + side_gust + 0.7 * shakes + sideways + 0.5 * whines,
        -(lift * std::cos(pitch) - ahead * std::sin(pitch)) + shakes + whines + 0.5 * shaken_wing};
    for (std::size_t k = 0; k < 3; ++k) seat[k] = holder[k].step(seat[k], dt);

    if (t < next_s) continue;
    next_s = std::max(t, next_s + 1.0 / r.rate_hz);
    if (unit(fast) < r.lost) continue;
    // A phone that slips turns about its own z.
    const double slip = r.slip_deg / 57.3 * std::clamp((t - touchdown_s) / 0.3, 0.0, 1.0);
    PhoneReading reading;
    reading.time_s = k_simulated_start_unix_s + t + r.ahead_s + r.drift_ppm * 1e-6 * (t - touchdown_s) +
                     r.jitter / r.rate_hz * (unit(fast) - 0.5);
    std::array<double, 3> felt{};
    for (std::size_t k = 0; k < 3; ++k)
      for (std::size_t j = 0; j < 3; ++j) felt[k] += lies[k][j] * seat[j];
    felt = {felt[0] * std::cos(slip) - felt[1] * std::sin(slip),
            felt[0] * std::sin(slip) + felt[1] * std::cos(slip), felt[2]};
    for (double& one : felt) one = 0.01 * std::round(100.0 * (one + r.noise_mps2 * white(fast)));
    if (!r.with_gravity) {
      // What phones call linear: less a slow mean of themselves, 9.81 long.
      if (first_reading) gravity = felt;
      double length = 0.0;
      for (std::size_t k = 0; k < 3; ++k) {
        gravity[k] += (felt[k] - gravity[k]) / (1.5 * r.rate_hz);
        length += gravity[k] * gravity[k];
      }
      for (std::size_t k = 0; k < 3; ++k) felt[k] -= g * gravity[k] / std::sqrt(length);
    }
    first_reading = false;
    reading.mps2 = felt;
    if (!readings.empty() && reading.time_s < readings.back().time_s) continue;
    readings.push_back(reading);
  }
  return readings;
}

inline AccelerometerLog gathered(const std::vector<PhoneReading>& readings) {
  VibrationMeter meter;
  for (const PhoneReading& reading : readings) meter.add(reading.time_s, reading.mps2);
  return meter.finish();
}

}  // namespace glidewright::testing

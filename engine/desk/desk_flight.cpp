#include "engine/desk/desk_flight.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "engine/technique/clock.hpp"
#include "engine/technique/decisions.hpp"
#include "engine/technique/moment.hpp"
#include "engine/technique/pilot.hpp"

namespace glidewright {
namespace {

constexpr int k_steps_in_a_tick = 5;
/// Braking to a walk, and the climb away: enough for a log to show how it ended. Common practice, no source.
constexpr double k_braking_fps2 = 5.0, k_walk_fps = 10.0, k_climb_away_s = 40.0;
constexpr double k_above_the_stall = 1.1, k_above_best_glide = 1.6;

class Desk {
 public:
  Desk(const Airplane& airplane, const Conditions& conditions, const Technique& technique,
       const DeskRunway& runway)
      : airplane_(airplane),
        conditions_(conditions),
        technique_(technique),
        runway_(runway),
        flight_(flight_of(airplane, conditions, {})),
        mirror_(conditions.traffic == Traffic::right ? -1.0 : 1.0) {
    state_ = steady_on_downwind(flight_, technique.spacing_ft, technique.pattern_height_ft,
                                technique.pattern_speed_kt, time_s_);
    commands_.height_ft = technique.pattern_height_ft;
    note();
  }

  DeskFlight fly(const std::vector<DeskHold>& holds) {
    for (const DeskHold& hold : holds)
      for (int i = 0; i < hold.ticks && !over(); ++i) tick(hold.hands);
    if (flown_.end == DeskEnd::under_way) settle();
    return std::move(flown_);
  }

 private:
  bool over() const { return flown_.end != DeskEnd::under_way; }
  Moment moment() const { return moment_of(flight_, conditions_, commands_, state_, time_s_); }
  void note() { flown_.track.push_back(moment()); }

  /// What is told of a flight that goes on.
  void settle() {
    flown_.now = moment();
    flown_.limits = limits();
    flown_.slip_forbidden = slip_forbidden();
  }
  void end(DeskEnd how) {
    settle();
    flown_.end = how;
  }

  double flap_taken(double asked_deg) const {
    double taken = 0.0;
    for (const auto& flap : airplane_.handbook.flaps)
      if (flap.setting_deg <= asked_deg) taken = std::max(taken, flap.setting_deg);
    return taken;
  }
  DeskLimits limits() const {
    const double flap_deg = commands_.flap_deg;
    DeskLimits found;
    found.slowest_kcas = k_above_the_stall * airplane_.polar.stall_kcas(conditions_.weight_lb, flap_deg);
    found.fastest_kcas = k_above_best_glide * airplane_.handbook.best_glide_speed_kcas.value;
    for (const auto& flap : airplane_.handbook.flaps)
      if (flap.setting_deg == flap_deg && flap.maximum_speed_kcas > 0.0)
        found.fastest_kcas = std::min(found.fastest_kcas, flap.maximum_speed_kcas);
    return found;
  }
  bool slip_forbidden() const { return commands_.flap_deg > airplane_.handbook.slip_flap_limit_deg; }

  void tick(const DeskHands& asked) {
    take(asked);
    if (flown_.phase == DeskPhase::going_around) return climb_away();
    for (int i = 0; i < k_steps_in_a_tick && !over(); ++i) {
      const FlightState before = state_;
      constexpr double k_step_s = k_decision_s / k_steps_in_a_tick;
      state_ = runge_kutta4(flight_, before, commands_, k_step_s);
      if (state_.height_ft <= 0.0) {
        touch_down(before, k_step_s);
        return;
      }
      time_s_ += k_step_s;
    }
    note();
    if (time_s_ >= k_longest_approach_s) end(DeskEnd::out_of_time);
  }

  void take(const DeskHands& asked) {
    DeskHands taken = asked;
    taken.flap_deg = flap_taken(asked.flap_deg);
    commands_.flap_deg = taken.flap_deg;
    taken.slip = asked.slip && !slip_forbidden() && flown_.phase != DeskPhase::flaring;
    commands_.slip = taken.slip ? 1.0 : 0.0;
    const DeskLimits allowed = limits();
    taken.calibrated_airspeed_kt =
        std::clamp(asked.calibrated_airspeed_kt, allowed.slowest_kcas, allowed.fastest_kcas);
    commands_.speed_fps = flight_.true_fps(taken.calibrated_airspeed_kt);
    taken.bank_deg = std::clamp(asked.bank_deg, -k_desk_steepest_deg, k_desk_steepest_deg);
    bank(mirror_ * taken.bank_deg * k_radians_per_degree);
    flown_.hands = taken;
    if (asked.go_around && flown_.phase >= DeskPhase::slowing) flown_.phase = DeskPhase::going_around;
    descend();
  }

  /// The equations steer towards a course; one a right angle away, with the bank as its limit, is that bank.
  void bank(double bank_rad) {
    const GroundVelocity ground = ground_velocity(flight_, state_);
    const double to_the_side = bank_rad < 0.0 ? -0.5 : 0.5;
    const double course_rad = ground.course_rad() + to_the_side * std::numbers::pi;
    commands_.lateral = Commands::Lateral::hold_course;
    commands_.sin_course = std::sin(course_rad);
    commands_.cos_course = std::cos(course_rad);
    commands_.bank_limit_rad = std::abs(bank_rad);
  }

  /// As the model's pilot does it: height held until the speed has come down to the one that is wanted, then
  /// the nose lowered; a flare some seconds of sink above the ground.
  void descend() {
    constexpr double k_now_s = 1e-6;
    if (flown_.phase == DeskPhase::downwind && time_s_ >= -k_now_s) {
      flown_.phase = DeskPhase::slowing;
      Forces level;
      derivative(flight_, state_, commands_, &level);
      state_.thrust_over_weight = level.drag_over_weight;
      commands_.idle = true;
    }
    if (flown_.phase == DeskPhase::slowing &&
        state_.speed_fps <= commands_.speed_fps + flight_.true_fps(pilot::k_glide_lead_kt)) {
      flown_.phase = DeskPhase::gliding;
      commands_.vertical = Commands::Vertical::hold_speed;
    }
    const double sink_fps = -state_.speed_fps * std::sin(state_.path_rad);
    if (flown_.phase == DeskPhase::gliding &&
        state_.height_ft <= pilot::flare_height_ft(technique_.flare_lead_s, sink_fps)) {
      flown_.phase = DeskPhase::flaring;
      pilot::begin_flare(true, state_.height_ft, sink_fps, flight_.true_fps(technique_.touchdown_speed_kt),
                         commands_);
    }
  }

  void touch_down(const FlightState& before, double step_s) {
    const double share = before.height_ft / (before.height_ft - state_.height_ft);
    const Moment from = moment_of(flight_, conditions_, commands_, before, time_s_);
    const Moment to = moment_of(flight_, conditions_, commands_, state_, time_s_ + step_s);
    Moment wheels = between(from, to, share);
    wheels.height_ft = 0.0;
    flown_.touchdown = wheels;
    flown_.phase = DeskPhase::down;
    flown_.track.push_back(wheels);
    const bool on_it = wheels.along_ft >= runway_.from_ft && wheels.along_ft <= runway_.to_ft &&
                       std::abs(wheels.cross_ft) <= runway_.half_width_ft;
    end(on_it ? DeskEnd::landed : DeskEnd::off_the_runway);
    flown_.now = wheels;
    roll(wheels);
  }

  /// Straight on along the course over the ground, slower and slower.
  void roll(Moment wheels) {
    const GroundVelocity ground = ground_velocity(flight_, state_);
    const double along = ground.along_fps / ground.speed_fps;
    const double cross = mirror_ * ground.cross_fps / ground.speed_fps;
    double speed_fps = wheels.groundspeed_kt * k_fps_per_knot;
    wheels.sink_fpm = wheels.bank_deg = wheels.slip = 0.0;
    while (speed_fps > k_walk_fps) {
      const double later_fps = speed_fps - k_braking_fps2 * k_decision_s;
      const double way_ft = 0.5 * (speed_fps + later_fps) * k_decision_s;
      speed_fps = later_fps;
      wheels.along_ft += along * way_ft;
      wheels.cross_ft += cross * way_ft;
      wheels.time_s += k_decision_s;
      wheels.groundspeed_kt = speed_fps / k_fps_per_knot;
      wheels.true_airspeed_kt =
          std::max(0.0, wheels.true_airspeed_kt - k_braking_fps2 * k_decision_s / k_fps_per_knot);
      wheels.calibrated_airspeed_kt = wheels.true_airspeed_kt * std::sqrt(flight_.density_ratio);
      flown_.track.push_back(wheels);
    }
  }

  /// Full power, wings level, flaps up: as much of it as holds the airspeed in the climb.
  void climb_away() {
    commands_.flap_deg = commands_.slip = 0.0;
    commands_.bank_limit_rad = 0.0;
    commands_.vertical = Commands::Vertical::hold_height;
    commands_.height_ft = technique_.pattern_height_ft;
    settle();
    // The equations let thrust fade, as after the lever is closed: so much of it is there on average in a
    // tick.
    const double ticks_to_fade = flight_.handling.power_fade_s / k_decision_s;
    const double lasting = ticks_to_fade * (1.0 - std::exp(-1.0 / ticks_to_fade));
    for (double end_s = time_s_ + k_climb_away_s; time_s_ < end_s; time_s_ += k_decision_s) {
      Forces forces;
      derivative(flight_, state_, commands_, &forces);
      state_.thrust_over_weight =
          (forces.drag_over_weight + std::max(0.0, std::sin(state_.path_rad))) / lasting;
      state_ = runge_kutta4(flight_, state_, commands_, k_decision_s);
      state_.height_ft = std::max(state_.height_ft, 1.0);
      note();
    }
    flown_.end = DeskEnd::went_around;
  }

  const Airplane& airplane_;
  const Conditions& conditions_;
  const Technique& technique_;
  const DeskRunway& runway_;
  Flight flight_;
  double mirror_;
  FlightState state_;
  Commands commands_;
  double time_s_ = -k_desk_before_abeam_s;
  DeskFlight flown_;
};

}  // namespace

DeskFlight fly_at_desk(const Airplane& airplane, const Conditions& conditions, const Technique& technique,
                       const DeskRunway& runway, const std::vector<DeskHold>& holds) {
  return Desk(airplane, conditions, technique, runway).fly(holds);
}

}  // namespace glidewright

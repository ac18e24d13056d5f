#include "engine/technique/approach.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <utility>

#include "engine/glide/motion.hpp"
#include "engine/lanes/philox.hpp"
#include "engine/technique/clock.hpp"
#include "engine/technique/moment.hpp"
#include "engine/technique/pilot.hpp"

namespace glidewright {
namespace {

/// One approach under way.
class Run {
 public:
  Run(Flight flight, const Conditions& conditions, const Technique& technique, const Deviation& deviation,
      const IntegratorSettings& settings, const TurbulentAir& air)
      : flight_(std::move(flight)),
        conditions_(conditions),
        technique_(technique),
        settings_(settings),
        air_(air),
        sheet_(technique, *flight_.airplane),
        intent_(intent_of(flight_, sheet_, deviation)) {
    place_on_downwind(deviation);
    if (air_.vertical_sd_fps > 0.0) {
      shaken_ = shocks_of_next_tick();
      flight_.gust =
          turbulence::gust_of(shaken_, turbulence::scales_at(state_.height_ft), air_.vertical_sd_fps);
      let_the_air_change();
    }
    memory_ = begin(intent_, state_);
  }

  Approach fly_it() {
    decide_now();
    result_.abeam = moment();
    while (time_s_ < k_longest_approach_s && !ended_) {
      const double tick_end = time_s_ + k_decision_s;
      while (!ended_) {
        const double awaited = next_awaited(intent_, flight_, state_, time_s_, tick_end, memory_);
        const bool before_the_tick = awaited < tick_end;
        advance_to(before_the_tick ? awaited : tick_end);
        if (!before_the_tick || ended_) break;
        decide_now();
      }
      if (ended_) break;
      if (air_.vertical_sd_fps > 0.0) let_the_air_change();
      decide_now();
    }
    return result_;
  }

 private:
  /// Steady on downwind at pattern speed, wings level, crabbed for the wind, at or before abeam.
  void place_on_downwind(const Deviation& deviation) {
    time_s_ = std::min(0.0, intent_.idle_time_s);
    state_ = steady_on_downwind(flight_, technique_.spacing_ft + deviation.spacing_ft,
                                technique_.pattern_height_ft + deviation.height_ft,
                                technique_.pattern_speed_kt, time_s_);
  }

  turbulence::Shaken<double> shocks_of_next_tick() {
    const FourRandomWords words =
        words_of_flight(air_.seed, air_.flight, turbulence::k_first_block + ticks_++);
    return {turbulence::shock_of(words.word[0]), turbulence::shock_of(words.word[1]),
            turbulence::shock_of(words.word[2])};
  }

  /// From here to the next tick.
  void let_the_air_change() {
    const auto scales = turbulence::scales_at(state_.height_ft);
    turbulence::shake(shocks_of_next_tick(), state_.speed_fps, scales, k_decision_s, shaken_);
    gust_change_ = turbulence::change_per_s(
        flight_.gust, turbulence::gust_of(shaken_, scales, air_.vertical_sd_fps), k_decision_s);
  }

  /// One step of the equations, in air that changes steadily.
  void step(double step_s) {
    if (air_.vertical_sd_fps <= 0.0) {
      state_ = runge_kutta4(flight_, state_, memory_.commands, step_s);
      return;
    }
    const GustOf<double> at_start = flight_.gust;
    flight_.gust = turbulence::changed(at_start, gust_change_, 0.5 * step_s);
    const OverGround over = over_ground(flight_, state_);
    const FlightState rate = derivative(flight_, state_, memory_.commands);
    const auto drift = turbulence::drift_through(gust_change_, over, state_, rate, step_s);
    state_ = runge_kutta4(flight_, state_, memory_.commands, step_s);
    turbulence::drift(drift, step_s, state_);
    flight_.gust = turbulence::changed(at_start, gust_change_, step_s);
  }

  void decide_now() {
    const bool was_idle = memory_.idle;
    const double before = memory_.phase;
    const double flap_before = memory_.commands.flap_deg;
    const bool slip_before = memory_.commands.slip > 0.0;
    decide(intent_, flight_, state_, time_s_, memory_);
    if (memory_.idle && !was_idle) {
      Forces level;
      derivative(flight_, state_, memory_.commands, &level);
      state_.thrust_over_weight =
          level.drag_over_weight;  // what held the height until now, fading from here on
    }
    if (memory_.commands.flap_deg != flap_before) {
      result_.flap_moves.push_back({time_s_, state_.height_ft, memory_.commands.flap_deg});
    }
    const bool slip_now = memory_.commands.slip > 0.0;
    if (slip_now && !result_.slip) result_.slip = SlipFlown{state_.height_ft, 0.0};
    if (slip_before && !slip_now) result_.slip->out_height_ft = state_.height_ft;
    if (before == memory_.phase) return;
    if (before == Phase::downwind) result_.base_turn = moment();
    if (memory_.phase == Phase::final_turn) result_.final_turn = moment();
    if (memory_.phase == Phase::final_leg) result_.final_leg = moment();
  }

  void advance_to(double end_s) {
    const double span = end_s - time_s_;
    const int steps = std::max(1, static_cast<int>(std::ceil(span / settings_.step_s - 1e-6)));
    for (int i = 0; i < steps && !ended_; ++i) {
      const FlightState before = state_;
      step(span / steps);
      watch(before, span / steps);
      time_s_ += span / steps;
    }
    if (!ended_) {
      time_s_ = end_s;
      if (settings_.watch == Watch::extremes) note_extremes();
      trace_moment();
    }
  }

  /// Key points crossed within the step, interpolated in it.
  void watch(const FlightState& before, double step_s) {
    const auto share = [](double from, double to) { return from == to ? 0.0 : from / (from - to); };
    if (time_s_ < 0.0 && time_s_ + step_s >= 0.0) result_.abeam = between(before, -time_s_ / step_s, step_s);
    const double half_spacing = -0.5 * technique_.spacing_ft;
    if (!result_.mid_base && memory_.phase != Phase::downwind && before.cross_ft < half_spacing &&
        state_.cross_ft >= half_spacing) {
      result_.mid_base =
          between(before, share(before.cross_ft - half_spacing, state_.cross_ft - half_spacing), step_s);
    }
    if (memory_.phase == Phase::final_leg && !result_.half_mile_final && before.along_ft < -k_half_mile_ft &&
        state_.along_ft >= -k_half_mile_ft) {
      result_.half_mile_final =
          between(before, share(before.along_ft + k_half_mile_ft, state_.along_ft + k_half_mile_ft), step_s);
    }
    const double gate_ft = technique_.gate_height_ft;
    if (!result_.gate && memory_.phase >= Phase::final_turn && before.height_ft > gate_ft &&
        state_.height_ft <= gate_ft) {
      result_.gate = between(before, share(before.height_ft - gate_ft, state_.height_ft - gate_ft), step_s);
      result_.stable_at_gate = stable_at_gate(intent_, flight_, state_, time_s_, memory_);
      if (technique_.go_around_when_unstable && !result_.stable_at_gate) end(ApproachEnd::go_around);
    }
    if (!ended_ && before.height_ft > 0.0 && state_.height_ft <= 0.0) touch_down(before, step_s);
  }

  /// Height within the step as a cubic through both ends and their rates: a straight line is feet off in a
  /// float.
  void touch_down(const FlightState& before, double step_s) {
    const double h0 = before.height_ft, h1 = state_.height_ft;
    const double up_before_fps = flight_.gust.up_fps - step_s * gust_change_.up_fps;
    const double r0 = (before.speed_fps * std::sin(before.path_rad) + up_before_fps) * step_s;
    const double r1 = (state_.speed_fps * std::sin(state_.path_rad) + flight_.gust.up_fps) * step_s;
    double low = 0.0, high = 1.0;
    for (int round = 0; round < 40; ++round) {
      const double u = 0.5 * (low + high);
      const double height = h0 * (1 + 2 * u) * (1 - u) * (1 - u) + r0 * u * (1 - u) * (1 - u) +
                            h1 * u * u * (3 - 2 * u) + r1 * u * u * (u - 1);
      (height > 0.0 ? low : high) = u;
    }
    result_.touchdown = between(before, 0.5 * (low + high), step_s);
    end(memory_.phase == Phase::final_leg || memory_.phase == Phase::final_turn
            ? ApproachEnd::touchdown
            : ApproachEnd::ground_contact_short_of_final);
  }

  void end(ApproachEnd how) {
    result_.end = how;
    ended_ = true;
  }

  void note_extremes() {
    Forces forces;
    derivative(flight_, state_, memory_.commands, &forces);
    const double calibrated = flight_.calibrated_kt(state_.speed_fps);
    const double stall = flight_.airplane->polar.stall_kcas(flight_.weight_lb, state_.flap_deg);
    result_.maximum_bank_deg =
        std::max(result_.maximum_bank_deg, std::abs(state_.bank_rad) / k_radians_per_degree);
    if (!memory_.flaring) {
      result_.least_speed_margin = std::min(
          result_.least_speed_margin, calibrated / (stall * std::sqrt(std::max(forces.load_factor, 0.5))));
      note_aim_point();
    }
  }

  void trace_moment() {
    if (settings_.trace == Trace::every_decision && time_s_ >= last_traced_s_ + k_decision_s - 1e-6) {
      result_.trace.push_back(moment());
      last_traced_s_ = time_s_;
    }
  }

  /// Where the present path over the ground meets it: at the flare this is the spot that stood still.
  void note_aim_point() {
    const GroundVelocity ground = ground_velocity(flight_, state_);
    const double sink_fps = -state_.speed_fps * std::sin(state_.path_rad);
    if (sink_fps > 1.0)
      result_.aim_point_ft = state_.along_ft + state_.height_ft * ground.along_fps / sink_fps;
  }

  Moment between(const FlightState& before, double share, double step_s) const {
    return glidewright::between(moment_of(before, time_s_), moment_of(state_, time_s_ + step_s), share);
  }

  Moment moment() const { return moment_of(state_, time_s_); }

  Moment moment_of(const FlightState& state, double time_s) const {
    return glidewright::moment_of(flight_, conditions_, memory_.commands, state, time_s);
  }

  Flight flight_;
  const Conditions& conditions_;
  const Technique& technique_;
  const IntegratorSettings& settings_;
  TurbulentAir air_;
  turbulence::Shaken<double> shaken_;
  GustOf<double> gust_change_;  ///< per second
  std::uint32_t ticks_ = 0;
  TechniqueSheet sheet_;
  PilotIntent intent_;
  PilotMemory memory_;
  FlightState state_;
  Approach result_;
  double time_s_ = 0.0;
  double last_traced_s_ = -1e9;
  bool ended_ = false;
};

}  // namespace

Approach fly(const Airplane& airplane, const Conditions& conditions, const Technique& technique,
             const Deviation& deviation, const IntegratorSettings& settings, const TurbulentAir& air) {
  assert(settings.step_s > 0.0 && conditions.density_ratio > 0.0);
  return Run(flight_of(airplane, conditions, deviation), conditions, technique, deviation, settings, air)
      .fly_it();
}

double vertical_gust_sd_fps(const WindProfile& wind, double factor) {
  constexpr Feet near_ground{20.0};
  constexpr double report_ft = 10.0 / k_metres_per_foot;
  const double of_the_wind = 0.1 * to_feet_per_second(wind.at(near_ground).speed).value;
  const double of_the_gust =
      to_feet_per_second(wind.gust).value / 3.0 / turbulence::scales_at(report_ft).horizontal_over_vertical;
  return factor * std::max(of_the_wind, of_the_gust);
}

Technique as_it_went(const Technique& technique, const Approach& flown) {
  Technique fixed = without_rules(technique);
  fixed.flaps.clear();
  for (const auto& move : flown.flap_moves) {
    fixed.flaps.push_back({move.flap_deg, FlapStep::When::at_height, move.height_ft, false});
  }
  if (flown.slip) fixed.slip = SlipStep{flown.slip->in_height_ft, flown.slip->out_height_ft};
  if (technique.path_by_eye && flown.mid_base && flown.final_turn) {
    const double inwards_ft = std::abs(flown.mid_base->cross_ft) - std::abs(flown.final_turn->cross_ft);
    const double along_ft = flown.final_turn->along_ft - flown.mid_base->along_ft;
    constexpr double least_base_ft = 200.0;
    if (inwards_ft > least_base_ft) {
      fixed.base_course_deg = std::atan2(along_ft, inwards_ft) / k_radians_per_degree;
    }
  }
  return fixed;
}

}  // namespace glidewright

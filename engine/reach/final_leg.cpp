#include "engine/reach/final_leg.hpp"

#include <algorithm>
#include <cmath>

#include "engine/reach/flown_from.hpp"

namespace glidewright::reach {
namespace {

constexpr double k_longest_final_ft = 12000.0;

double drag_with_slip(const Flight& flight, double speed_fps, double flap_deg, double slip) {
  return flight.drag_factor * flight.airplane->polar.drag_over_weight(flight.calibrated_kt(speed_fps),
                                                                      flight.weight_lb, flap_deg,
                                                                      slip * flight.slip_factor, 1.0, 1.0);
}

/// On the centreline at the gate in the steady glide, nose into the wind.
FlightState at_gate(const Flight& flight, const BandRequest& request, double speed_fps, double flap_deg,
                    double slip) {
  FlightState state;
  state.height_ft = request.means.gate_height_ft;
  state.speed_fps = speed_fps;
  state.path_rad = -std::asin(drag_with_slip(flight, speed_fps, flap_deg, slip));
  const double across = flight.wind.at(state.height_ft).cross_fps / (speed_fps * std::cos(state.path_rad));
  state.heading_rad = -std::asin(std::clamp(across, -0.9, 0.9));
  state.flap_deg = flap_deg;
  state.slip = slip;
  return state;
}

}  // namespace

FinalLeg::FinalLeg(const Flight& flight, const BandRequest& request, const EdgeRules& rules,
                   double target_ft) {
  const double speed_fps = flight.true_fps(request.technique.final_speed_kt);
  const double flap_deg = flap_to_turn_deg(request, rules, 0.0);
  const bool slips = rules.kind == EdgeRules::Kind::highest && rules.spends == Spends::slip &&
                     flap_deg <= flight.airplane->handbook.slip_flap_limit_deg;
  const double slip = slips ? 1.0 : 0.0;
  const double slip_out_ft = request.means.slip_out_height_ft;

  Technique technique = request.technique;
  technique.gate_height_ft = request.means.gate_height_ft;
  const FlownFrom flown = fly_from(flight, technique, at_gate(flight, request, speed_fps, flap_deg, slip),
                                   [&](const FlightState& state, double, PilotMemory& memory) {
                                     memory.phase = Phase::final_leg;
                                     memory.gliding = true;
                                     if (!memory.flaring)
                                       memory.commands.vertical = Commands::Vertical::hold_speed;
                                     memory.commands.lateral = Commands::Lateral::capture_centreline;
                                     memory.commands.slip = state.height_ft > slip_out_ft ? slip : 0.0;
                                   });
  gate_along_ft_ = target_ft - flown.along_ft;

  constexpr double slip_comes_late_s = 3.5;  // common practice, no source
  slip_comes_late_ft_ =
      slip_comes_late_s * speed_fps *
      (drag_with_slip(flight, speed_fps, flap_deg, slip) - drag_with_slip(flight, speed_fps, flap_deg, 0.0));

  double height = request.means.gate_height_ft;
  double steepest = 0.0;
  for (double gone = 0.0; gone < k_longest_final_ft; gone += k_step_ft) {
    heights_ft_.push_back(height);
    const LocalWind wind = flight.wind.at(height);
    const double drag = drag_with_slip(flight, speed_fps, flap_deg, slip);
    const double level_fps = speed_fps * std::sqrt(1.0 - drag * drag);
    const double crab = -std::asin(std::clamp(wind.cross_fps / level_fps, -0.9, 0.9));
    const double ground_fps = std::max(10.0, level_fps * std::cos(crab) + wind.along_fps);
    const double shear = wind.along_per_s * std::cos(crab) + wind.cross_per_s * std::sin(crab);
    const double sink_fps = speed_fps * drag / (1.0 + shear * speed_fps / k_gravity_fps2);
    height += sink_fps / ground_fps * k_step_ft;
    steepest = std::max(steepest, sink_fps / std::max(20.0, level_fps - std::abs(wind.cross_fps)));
    if (height < 400.0) crab_rad_ = crab;
  }
  short_of_per_ft_ = 1.15 * steepest;
  // Past the centreline is out of the question: a turn back is not taught, and would spend any height.
  beyond_per_ft_ = 1.0;
}

double FinalLeg::height_ft(double along_ft) const {
  const double gone = (gate_along_ft_ - along_ft) / k_step_ft;
  const auto last = static_cast<double>(heights_ft_.size() - 2);
  const double at = std::clamp(std::floor(gone), 0.0, last);
  const auto i = static_cast<std::size_t>(at);
  return heights_ft_[i] + (gone - at) * (heights_ft_[i + 1] - heights_ft_[i]);
}

}  // namespace glidewright::reach

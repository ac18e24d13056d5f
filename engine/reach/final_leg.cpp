#include "engine/reach/final_leg.hpp"

#include <algorithm>
#include <cmath>

#include "engine/reach/flown_from.hpp"
#include "engine/reach/to_clear.hpp"

namespace glidewright::reach {
namespace {

constexpr double k_longest_final_ft = 12000.0;

double drag_with_slip(const Flight& flight, double speed_fps, double flap_deg, double slip) {
  return flight.drag_factor * flight.airplane->polar.drag_over_weight(flight.calibrated_kt(speed_fps),
                                                                      flight.weight_lb, flap_deg,
                                                                      slip * flight.slip_factor, 1.0, 1.0);
}

/// On the centreline at the gate in the steady glide, nose into the wind.
FlightState at_gate(const Flight& flight, const BandRequest& request, double speed_fps,
                    const FinalMeans& means) {
  const auto [flap_deg, slip] = means;
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

/// How far before the touchdown the way is as high as that; none above the gate.
std::optional<double> before_touchdown_ft(const std::vector<PlaceOnFinal>& way, double touchdown_ft,
                                          double height_ft) {
  if (way.empty() || height_ft > way.front().height_ft) return std::nullopt;
  for (std::size_t i = 1; i < way.size(); ++i) {
    const PlaceOnFinal &above = way[i - 1], &below = way[i];
    if (below.height_ft > height_ft) continue;
    const double share = (above.height_ft - height_ft) / std::max(1e-6, above.height_ft - below.height_ft);
    return touchdown_ft - (above.along_ft + share * (below.along_ft - above.along_ft));
  }
  return 0.0;
}

/// The touchdown nearest to the point from which every obstacle between it and its gate is cleared, or none.
std::optional<double> clearing_touchdown_ft(const std::vector<ToClear>& obstacles,
                                            const std::vector<PlaceOnFinal>& way, double flown_ft,
                                            double target_ft) {
  double touchdown_ft = target_ft;
  for (const ToClear& obstacle : obstacles) {
    const bool beyond_gate = obstacle.along_ft > target_ft - flown_ft && obstacle.along_ft < touchdown_ft;
    if (!obstacle.on_final || !beyond_gate) continue;
    const auto before_ft = before_touchdown_ft(way, flown_ft, obstacle.height_ft);
    if (!before_ft) return std::nullopt;
    touchdown_ft = std::max(touchdown_ft, obstacle.along_ft + *before_ft);
  }
  return touchdown_ft;
}

}  // namespace

FinalMeans final_means(const Flight& flight, const BandRequest& request, const EdgeRules& rules) {
  const double flap_deg = flap_to_turn_deg(request, rules, 0.0);
  const bool slips = rules.kind == EdgeRules::Kind::highest && rules.spends == Spends::slip &&
                     flap_deg <= flight.airplane->handbook.slip_flap_limit_deg;
  return {flap_deg, slips ? 1.0 : 0.0};
}

FlownFinal fly_final(const Flight& flight, const BandRequest& request, const FinalMeans& means) {
  const double speed_fps = flight.true_fps(request.technique.final_speed_kt);
  const double slip_out_ft = request.means.slip_out_height_ft;

  Technique technique = request.technique;
  technique.gate_height_ft = request.means.gate_height_ft;
  // A coarse grid is off by many feet more than the longest step between two decisions is.
  constexpr double step_s = 0.05, coarse_step_s = 0.1, coarse_from_ft = 80.0;
  FlownFinal down{means, {}, 0.0};
  const FlownFrom flown = fly_from(
      flight, technique, at_gate(flight, request, speed_fps, means),
      [&](const FlightState& state, double, PilotMemory& memory) {
        down.way.push_back({state.along_ft, state.height_ft});
        memory.phase = Phase::final_leg;
        memory.gliding = true;
        if (!memory.flaring) memory.commands.vertical = Commands::Vertical::hold_speed;
        memory.commands.lateral = Commands::Lateral::capture_centreline;
        memory.commands.slip = state.height_ft > slip_out_ft ? means.slip : 0.0;
      },
      request.grid.cell_ft < coarse_from_ft ? step_s : coarse_step_s);
  down.touchdown_ft = flown.along_ft;
  down.way.push_back({flown.along_ft, 0.0});
  return down;
}

FinalLeg::FinalLeg(const Flight& flight, const BandRequest& request, const EdgeRules& rules, double target_ft,
                   const FlownFinal& flown) {
  const double speed_fps = flight.true_fps(request.technique.final_speed_kt);
  const auto [flap_deg, slip] = flown.means;
  const bool lowest = rules.kind == EdgeRules::Kind::lowest;
  const auto obstacles = to_clear(request);
  const auto clearing = clearing_touchdown_ft(obstacles, flown.way, flown.touchdown_ft, target_ft);
  into_the_box_ = clearing && *clearing <= (lowest ? request.box.high_ft : target_ft);
  // A highest edge stays where it is: whether it clears its obstacles is all that is asked of it.
  touchdown_ft_ = lowest && clearing ? *clearing : target_ft;
  gate_along_ft_ = touchdown_ft_ - flown.touchdown_ft;
  below_gate_ = flown.way;

  // Who rolls out chases the centreline for some seconds with a little bank, and slips only then: seen in the
  // reference's turns onto it.
  constexpr double slip_comes_late_s = 6.0;
  const double drag = drag_with_slip(flight, speed_fps, flap_deg, slip);
  slip_comes_late_ft_ =
      slip_comes_late_s * speed_fps * (drag - drag_with_slip(flight, speed_fps, flap_deg, 0.0));

  constexpr double k_crab_height_ft = 400.0;
  const double level_fps = speed_fps * std::sqrt(1.0 - drag * drag);
  crab_rad_ = -std::asin(std::clamp(flight.wind.at(k_crab_height_ft).cross_fps / level_fps, -0.9, 0.9));
  double height = request.means.gate_height_ft;
  double steepest = 0.0;
  for (double gone = 0.0; gone < k_longest_final_ft; gone += k_step_ft) {
    heights_ft_.push_back(height);
    const LocalWind wind = flight.wind.at(height);
    const double sine = -std::clamp(wind.cross_fps / level_fps, -0.9, 0.9);  // of the crab
    const double cosine = std::sqrt(1.0 - sine * sine);
    const double ground_fps = std::max(10.0, level_fps * cosine + wind.along_fps);
    const double shear = wind.along_per_s * cosine + wind.cross_per_s * sine;
    const double sink_fps = speed_fps * drag / (1.0 + shear * speed_fps / k_gravity_fps2);
    height += sink_fps / ground_fps * k_step_ft;
    for (const ToClear& obstacle : obstacles) {
      const double before_gate_ft = gate_along_ft_ - obstacle.along_ft;
      if (!obstacle.on_final || before_gate_ft <= gone || before_gate_ft > gone + k_step_ft) continue;
      if (lowest) height = std::max(height, obstacle.height_ft);
      if (!lowest && height < obstacle.height_ft) into_the_box_ = false;
    }
    steepest = std::max(steepest, sink_fps / std::max(20.0, level_fps - std::abs(wind.cross_fps)));
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

double FinalLeg::flown_height_ft(double along_ft) const {
  const double past_gate_ft = along_ft - gate_along_ft_;
  if (past_gate_ft <= 0.0) return height_ft(along_ft);
  const auto below = std::find_if(below_gate_.begin(), below_gate_.end(),
                                  [&](const PlaceOnFinal& place) { return place.along_ft >= past_gate_ft; });
  if (below == below_gate_.begin() || below == below_gate_.end()) return 0.0;
  const PlaceOnFinal& above = *std::prev(below);
  const double share = (past_gate_ft - above.along_ft) / std::max(1e-6, below->along_ft - above.along_ft);
  return above.height_ft + share * (below->height_ft - above.height_ft);
}

}  // namespace glidewright::reach

#include "engine/reach/surface.hpp"

#include <algorithm>
#include <cmath>

#include "engine/batch/batch.hpp"
#include "engine/reach/board.hpp"
#include "engine/reach/smooth_wind.hpp"
#include "engine/reach/sweep_code.hpp"
#include "engine/reach/to_clear.hpp"

namespace glidewright::reach {
namespace {

/// Height given up for each foot beyond the gate: as good as out of the question.
constexpr double k_beyond_gate_per_ft = 1.0;
constexpr double k_widest_final_turn_deg = 150.0;

SweepCode widest_code() {
#if defined(__x86_64__)
  if (widest_instruction_set() == InstructionSet::avx512) return sweep_code_avx512();
  if (widest_instruction_set() == InstructionSet::avx2) return sweep_code_avx2();
#endif
  return sweep_code_baseline();
}

}  // namespace

class Sweep {
 public:
  Sweep(const Flight& flight, const BandRequest& request, const EdgeRules& rules, const ReachGrid& grid,
        const FinalLeg& final_leg)
      : flight_(flight),
        request_(request),
        rules_(rules),
        wind_(flight.wind),
        lowest_(rules.kind == EdgeRules::Kind::lowest),
        obstacles_(lowest_ ? to_clear(request) : std::vector<ToClear>{}) {
    const ReachRegion& region = request.region;
    surface_.cell_ft_ = grid.cell_ft;
    surface_.along_low_ft_ = region.along_low_ft;
    surface_.along_count_ =
        static_cast<int>(std::ceil((region.along_high_ft - region.along_low_ft) / grid.cell_ft)) + 1;
    // A line of cells lies on the centreline, where the surface has its crease.
    const double cells_left = std::ceil(-region.cross_low_ft / grid.cell_ft);
    surface_.cross_low_ft_ = -cells_left * grid.cell_ft;
    surface_.cross_count_ = static_cast<int>(cells_left + std::ceil(region.cross_high_ft / grid.cell_ft)) + 1;
    surface_.final_leg_ = final_leg;
    surface_.heading_step_rad_ = grid.heading_deg * k_radians_per_degree;
    const double steps =
        request.region.heading_to_turn_deg * k_radians_per_degree / surface_.heading_step_rad_;
    for (int layer = 0; layer <= static_cast<int>(std::ceil(steps)); ++layer)
      turns_.push_back(turn_to(layer));
  }

  EdgeSurface run() {
    const auto layers = static_cast<int>(turns_.size());
    const std::shared_ptr<std::int16_t[]> kept(
        new std::int16_t[static_cast<std::size_t>(layers) * surface_.cells_of_layer()]);
    kept_ = kept.get();
    surface_.half_feet_ = kept;
    Board before = lined_up(), here = before;
    surface_.lines_are_along_.push_back(true);
    for (int line = 0; line < before.lines(); ++line) keep(before, line, 0);
    for (int layer = 1; layer < layers; ++layer) {
      const double heading = heading_of(layer);
      const LocalWind wind = flight_.wind.at(k_usual_height_ft);
      const double level = flight_.true_fps(request_.technique.base_speed_kt);
      const bool along_ahead = std::abs(level * std::cos(heading) + wind.along_fps) >=
                               std::abs(level * std::sin(heading) + wind.cross_fps);
      if (along_ahead != surface_.lines_are_along_.back()) {
        before.turn_over(here);
        std::swap(before, here);
        here.lie_as(before);
      }
      surface_.lines_are_along_.push_back(along_ahead);
      along_ahead ? step<true>(before, layer, here) : step<false>(before, layer, here);
      std::swap(before, here);
    }
    return std::move(surface_);
  }

 private:
  static constexpr double k_usual_height_ft = 600.0;

  /// The first heading: lined up, on the centreline or at a price beside it.
  Board lined_up() const {
    Board board(surface_.along_count_, surface_.cross_count_, margin_cells());
    const double sign = lowest_ ? 1.0 : -1.0;
    for (int m = 0; m < board.lines(); ++m) {
      const double on_line = height_lined_up(surface_.along_low_ft_ + m * surface_.cell_ft_);
      for (int n = 0; n < board.width(); ++n) {
        const double cross = surface_.cross_low_ft_ + n * surface_.cell_ft_;
        board.line(m)[n] = static_cast<float>(on_line + sign * surface_.final_leg_.price_ft(cross));
      }
      board.fill_margin_of_line(m);
    }
    board.fill_margin_lines();
    return board;
  }

  /// As far as a turn leads to the side in one step, and the four cells around where it ends.
  int margin_cells() const {
    const LocalWind usual = flight_.wind.at(k_usual_height_ft);
    double farthest_ft = 0.0;
    for (const Step& turn : turns_) {
      farthest_ft =
          std::max({farthest_ft, turn.seconds * (std::abs(turn.air_ahead_fps) + std::abs(usual.along_fps)),
                    turn.seconds * (std::abs(turn.air_aside_fps) + std::abs(usual.cross_fps))});
    }
    return static_cast<int>(std::ceil(farthest_ft / surface_.cell_ft_)) + 2;
  }

  double heading_of(int layer) const { return surface_.crab_rad() + layer * surface_.heading_step_rad_; }

  /// For lines with one along each.
  static void aim(Step& step, double horizontal_fps, double heading, double speed_fps) {
    const double along = std::cos(heading), cross = std::sin(heading);
    step.air_ahead_fps = static_cast<float>(horizontal_fps * along);
    step.air_aside_fps = static_cast<float>(horizontal_fps * cross);
    step.shear_ahead = static_cast<float>(along * speed_fps / k_gravity_fps2);
    step.shear_aside = static_cast<float>(cross * speed_fps / k_gravity_fps2);
  }
  /// For lines that lie so on the board.
  template <bool k_along_ahead>
  static Step on_board(Step step) {
    if (!k_along_ahead) {
      std::swap(step.air_ahead_fps, step.air_aside_fps);
      std::swap(step.shear_ahead, step.shear_aside);
    }
    return step;
  }

  template <bool k_along_ahead>
  void step(const Board& before, int layer, Board& here) const {
    const double heading = heading_of(layer);
    const double to_turn_deg = layer * surface_.heading_step_rad_ / k_radians_per_degree;
    const LegRate rate = leg_rate(flight_, request_, rules_, to_turn_deg);
    Step straight;
    aim(straight, rate.horizontal_fps, heading, rate.speed_fps);
    straight = on_board<k_along_ahead>(straight);
    straight.energy_above_final_ft = static_cast<float>(rate.energy_above_final_ft);
    straight.sink_fps = static_cast<float>(rate.sink_fps);

    const LocalWind usual = flight_.wind.at(k_usual_height_ft);
    const auto usual_ahead = static_cast<float>(k_along_ahead ? usual.along_fps : usual.cross_fps);
    const auto usual_aside = static_cast<float>(k_along_ahead ? usual.cross_fps : usual.along_fps);
    const float ahead_fps = straight.air_ahead_fps + usual_ahead;
    const float side = ahead_fps > 0.0F ? 1.0F : -1.0F;
    const auto cell_ft = static_cast<float>(surface_.cell_ft_);
    const float cells_aside = std::floor((straight.air_aside_fps + usual_aside) / std::abs(ahead_fps));

    const WindTerms wind = wind_.terms(k_along_ahead);
    turn_lines(before, wind, on_board<k_along_ahead>(turns_[static_cast<std::size_t>(layer)]), usual_ahead,
               usual_aside, here);
    if (to_turn_deg <= k_widest_final_turn_deg) turn_to_the_end<k_along_ahead>(layer, here);
    const Allowed allowed = straight_allowed<k_along_ahead>(heading, here);
    for (int i = 0; i < here.lines(); ++i) {
      const int line = side > 0.0F ? here.lines() - 1 - i : i;
      if (i > 0 && line >= allowed.first_line && line < allowed.past_line) {
        const float* next = here.line(line + static_cast<int>(side)) + static_cast<int>(cells_aside);
        code_.straight(wind, straight,
                       {next, cell_ft, side, cells_aside, allowed.first_cell, allowed.past_cell, lowest_},
                       here.line(line));
      }
      clear_obstacles<k_along_ahead>(line, rate.energy_above_final_ft, here);
      here.fill_margin_of_line(line);
      keep(here, line, layer);
    }
    here.fill_margin_lines();
  }

  /// No way leads lower than an obstacle asks for through the cells beside it. As wide as the longest step, a
  /// turn's, at least, so that none steps over it.
  template <bool k_along_ahead>
  void clear_obstacles(int line, double energy_above_final_ft, Board& here) const {
    const double beside_ft = k_beside_obstacle_ft + surface_.cell_ft_;
    const double line_low_ft = k_along_ahead ? surface_.along_low_ft_ : surface_.cross_low_ft_;
    const double cell_low_ft = k_along_ahead ? surface_.cross_low_ft_ : surface_.along_low_ft_;
    for (const ToClear& obstacle : obstacles_) {
      const double across_ft = k_along_ahead ? obstacle.along_ft : obstacle.cross_ft;
      const double within_ft = k_along_ahead ? obstacle.cross_ft : obstacle.along_ft;
      const double off_ft = std::abs(line_low_ft + line * surface_.cell_ft_ - across_ft);
      if (off_ft > beside_ft) continue;
      const double half_ft = std::sqrt(beside_ft * beside_ft - off_ft * off_ft);
      const auto cell = [&](double at_ft) { return (at_ft - cell_low_ft) / surface_.cell_ft_; };
      const int first = std::max(0, static_cast<int>(std::ceil(cell(within_ft - half_ft))));
      const int last = std::min(here.width() - 1, static_cast<int>(std::floor(cell(within_ft + half_ft))));
      const auto least = static_cast<float>(obstacle.height_ft + energy_above_final_ft);
      for (int n = first; n <= last; ++n) here.line(line)[n] = std::max(here.line(line)[n], least);
    }
  }

  /// Whether the last turn, flown to its end at once, may lead past an obstacle that is higher than its end.
  bool obstacle_within(double from_along_ft, double end_along_ft, double from_cross_ft) const {
    const double beside_ft = k_beside_obstacle_ft + surface_.cell_ft_;
    const double lowest_ft = height_lined_up(end_along_ft);
    return std::any_of(obstacles_.begin(), obstacles_.end(), [&](const ToClear& obstacle) {
      return obstacle.height_ft > lowest_ft &&
             obstacle.along_ft > std::min(from_along_ft, end_along_ft) - beside_ft &&
             obstacle.along_ft < std::max(from_along_ft, end_along_ft) + beside_ft &&
             obstacle.cross_ft > std::min(from_cross_ft, 0.0) - beside_ft &&
             obstacle.cross_ft < std::max(from_cross_ft, 0.0) + beside_ft;
    });
  }

  /// The last turn flown to its end ends on the centreline only from one curve of places, where the surface
  /// has a crease. Stepping a crease from heading to heading blurs it (10 ft at 40 ft cells): so the cells
  /// beside it get the whole turn at once.
  template <bool k_along_ahead>
  void turn_to_the_end(int layer, Board& here) const {
    double along_ft = 0.0, cross_ft = 0.0, seconds = 0.0, sink_ft = 0.0, extra_ft = 0.0;
    for (int i = layer; i > 0; --i) {
      const Step& step = turns_[static_cast<std::size_t>(i)];
      along_ft += static_cast<double>(step.air_ahead_fps * step.seconds);
      cross_ft += static_cast<double>(step.air_aside_fps * step.seconds);
      sink_ft += static_cast<double>(step.sink_fps * step.seconds);
      seconds += static_cast<double>(step.seconds);
      extra_ft += static_cast<double>(step.extra_ft);
    }
    const double middle = surface_.crab_rad() + 0.5 * layer * surface_.heading_step_rad_;
    const double middle_along = std::cos(middle), middle_cross = std::sin(middle);
    const double speed = flight_.true_fps(request_.technique.final_speed_kt);
    constexpr int beside = 3;
    for (int i = 0; i < surface_.along_count_; ++i) {
      const double from_along = surface_.along_low_ft_ + i * surface_.cell_ft_;
      // Height, wind and the end of the turn hang together; the second round moves nothing any more.
      double end_along = from_along + along_ft, from_cross = 0.0, height = 0.0;
      for (int again = 0; again < 2; ++again) {
        const double end_height = height_lined_up(end_along);
        const LocalWind wind = flight_.wind.at(
            std::clamp(end_height + 0.5 * sink_ft, SmoothWind::k_low_ft, SmoothWind::k_high_ft));
        const double shear = 1.0 + speed / k_gravity_fps2 *
                                       (wind.along_per_s * middle_along + wind.cross_per_s * middle_cross);
        height = end_height + sink_ft / shear + extra_ft;
        end_along = from_along + along_ft + wind.along_fps * seconds;
        from_cross = -(cross_ft + wind.cross_fps * seconds);
      }
      // Then it is left to the steps from heading to heading, which meet what lies under them.
      if (obstacle_within(from_along, end_along, from_cross)) continue;
      const double at = (from_cross - surface_.cross_low_ft_) / surface_.cell_ft_;
      const int nearest = static_cast<int>(std::lround(at));
      for (int j = std::max(0, nearest - beside); j <= std::min(surface_.cross_count_ - 1, nearest + beside);
           ++j) {
        const double offset_ft = (j - at) * surface_.cell_ft_;
        const double here_ft = height + (lowest_ ? 1.0 : -1.0) * surface_.final_leg_.price_ft(offset_ft);
        float& cell = k_along_ahead ? here.line(i)[j] : here.line(j)[i];
        cell = lowest_ ? std::min(cell, static_cast<float>(here_ft))
                       : std::max(cell, static_cast<float>(here_ft));
      }
    }
  }

  /// On the centreline; beyond the gate at a price that no path pays.
  double height_lined_up(double along_ft) const {
    const double box_ft = request_.box.high_ft - request_.box.low_ft;
    const double beyond =
        std::max(0.0, along_ft - surface_.final_leg_.gate_along_ft() - (lowest_ ? box_ft : 0.0));
    const double on_line = along_ft <= surface_.final_leg_.gate_along_ft()
                               ? surface_.final_leg_.height_ft(along_ft)
                               : request_.means.gate_height_ft;
    return on_line - surface_.final_leg_.slip_comes_late_ft() +
           (lowest_ ? 1.0 : -1.0) * k_beyond_gate_per_ft * beyond;
  }

  /// Every cell: one step of the turn, to the heading before.
  void turn_lines(const Board& before, const WindTerms& wind, const Step& turning, float usual_ahead,
                  float usual_aside, Board& here) const {
    const float per_cell = 1.0F / static_cast<float>(surface_.cell_ft_);
    const float lines_on = std::floor((turning.air_ahead_fps + usual_ahead) * turning.seconds * per_cell);
    const float cells_on = std::floor((turning.air_aside_fps + usual_aside) * turning.seconds * per_cell);
    TurnLine line{};
    line.lines_fixed = turning.air_ahead_fps * turning.seconds * per_cell - lines_on;
    line.cells_fixed = turning.air_aside_fps * turning.seconds * per_cell - cells_on;
    line.wind_cells = turning.seconds * per_cell;
    line.width = before.width();
    for (int i = 0; i < here.lines(); ++i) {
      const int row = std::clamp(i + static_cast<int>(lines_on), 1 - Board::k_margin_lines,
                                 before.lines() + Board::k_margin_lines - 3);
      for (int k = 0; k < 4; ++k) line.rows[k] = before.line(row - 1 + k) + static_cast<int>(cells_on);
      code_.turn(wind, turning, line, here.line(i));
    }
  }

  /// From the heading before to this one, for lines with one along each; nothing to the first.
  Step turn_to(int layer) const {
    Step step;
    if (layer == 0) return step;
    const double to_turn_deg = (layer - 0.5) * surface_.heading_step_rad_ / k_radians_per_degree;
    const LegRate rate = leg_rate(flight_, request_, rules_, to_turn_deg);
    const double half = 0.5 * surface_.heading_step_rad_;
    aim(step, rate.turn_horizontal_fps * std::sin(half) / half, heading_of(layer) - half, rate.speed_fps);
    step.energy_above_final_ft = static_cast<float>(rate.energy_above_final_ft);
    step.sink_fps = static_cast<float>(rate.turn_sink_fps);
    step.seconds = static_cast<float>(surface_.heading_step_rad_ / rate.turn_rate_rad_s);
    const LegRate next =
        leg_rate(flight_, request_, rules_, to_turn_deg - surface_.heading_step_rad_ / k_radians_per_degree);
    // The lever takes time: until the flap is out it costs half of what it will cost.
    const double travel_s = (next.flap_deg - rate.flap_deg) / flight_.handling.flap_rate_deg_s;
    step.extra_ft = static_cast<float>(-0.5 * travel_s * (next.turn_sink_fps - rate.turn_sink_fps));
    return step;
  }

  /// Flown on along the pattern from where a turn is begun until it is one.
  double rolling_in_ft(double heading) const {
    const double bank_rad = request_.means.bank_deg * k_radians_per_degree;
    constexpr double height_ft = 800.0;  // about, of a base turn
    const double to_turn_deg = (heading - surface_.crab_rad()) / k_radians_per_degree;
    const double ground_fps =
        leg_rate(flight_, request_, rules_, to_turn_deg).horizontal_fps * std::cos(heading) +
        flight_.wind.at(height_ft).along_fps;
    return std::max(0.0, -ground_fps) * (k_roll_in_begins_s + roll_delay_s(flight_.handling, bank_rad));
  }

  /// Places from which the edge may be flown straight on, in lines and cells of each line.
  struct Allowed {
    int first_line = 0, past_line = 0, first_cell = 0, past_cell = 0;
  };
  /// The upper edge: not farther out than the extension allows, and not past the centreline, where a path
  /// away from the runway would spend any height.
  template <bool k_along_ahead>
  Allowed straight_allowed(double heading, const Board& board) const {
    if (lowest_) return {0, board.lines(), 0, board.width()};
    int first_along = 0;
    if (std::cos(heading) < 0.0) {
      const double farthest_ft = request_.means.farthest_past_abeam_ft + rolling_in_ft(heading);
      const double limit = (-farthest_ft - surface_.along_low_ft_) / surface_.cell_ft_;
      first_along = std::clamp(static_cast<int>(std::ceil(limit)), 0, surface_.along_count_);
    }
    const int past_cross = static_cast<int>(std::lround(-surface_.cross_low_ft_ / surface_.cell_ft_));
    if (k_along_ahead) return {first_along, board.lines(), 0, past_cross};
    return {0, past_cross, first_along, board.width()};
  }

  void keep(const Board& board, int line, int layer) const {
    const std::size_t before = static_cast<std::size_t>(layer) * surface_.cells_of_layer() +
                               static_cast<std::size_t>(line) * static_cast<std::size_t>(board.width());
    code_.keep(board.line(line), board.width(), kept_ + before);
  }

  const Flight& flight_;
  const BandRequest& request_;
  const EdgeRules& rules_;
  SmoothWind wind_;
  SweepCode code_ = widest_code();
  bool lowest_;
  std::vector<ToClear> obstacles_;  ///< of a lowest edge
  EdgeSurface surface_;
  std::int16_t* kept_ = nullptr;  ///< what the surface holds
  std::vector<Step> turns_;       ///< to each heading from the one before
};

EdgeSurface sweep_edge(const Flight& flight, const BandRequest& request, const EdgeRules& rules,
                       const ReachGrid& grid, const FinalLeg& final_leg) {
  return Sweep(flight, request, rules, grid, final_leg).run();
}

double EdgeSurface::in_layer(std::size_t layer, double along_cells, double cross_cells) const {
  const bool lines_are_along = lines_are_along_[layer];
  const int lines = lines_are_along ? along_count_ : cross_count_;
  const int width = lines_are_along ? cross_count_ : along_count_;
  const double across = lines_are_along ? along_cells : cross_cells;
  const double within = lines_are_along ? cross_cells : along_cells;
  const double m = std::clamp(across, 0.0, lines - 1.001), n = std::clamp(within, 0.0, width - 1.001);
  const int line = static_cast<int>(m), cell = static_cast<int>(n);
  const std::int16_t* near = half_feet_.get() + layer * cells_of_layer() +
                             static_cast<std::size_t>(line) * static_cast<std::size_t>(width) +
                             static_cast<std::size_t>(cell);
  const double a = m - line, b = n - cell;
  return 0.5 * ((1.0 - a) * ((1.0 - b) * near[0] + b * near[1]) +
                a * ((1.0 - b) * near[width] + b * near[width + 1]));
}

double EdgeSurface::height_ft(double along_ft, double cross_ft, double heading_rad) const {
  const double along = (along_ft - along_low_ft_) / cell_ft_, cross = (cross_ft - cross_low_ft_) / cell_ft_;
  const double last = static_cast<double>(lines_are_along_.size()) - 1.001;
  const double at = std::clamp((heading_rad - crab_rad()) / heading_step_rad_, 0.0, last);
  const auto layer = static_cast<std::size_t>(at);
  const double share = at - static_cast<double>(layer);
  return (1.0 - share) * in_layer(layer, along, cross) + share * in_layer(layer + 1, along, cross);
}

std::size_t EdgeSurface::bytes() const {
  return lines_are_along_.size() * cells_of_layer() * sizeof(std::int16_t);
}

}  // namespace glidewright::reach

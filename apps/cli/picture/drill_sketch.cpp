#include "apps/cli/picture/drill_sketch.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "apps/cli/picture/sheet.hpp"

namespace glidewright {
namespace {

constexpr int k_margin = 8;  ///< columns for the feet across
constexpr double k_grid_ft = 1000.0;

/// Feet to signs: a sign is about twice as high as it is wide.
class Ground {
 public:
  Ground(const DrillGround& drawn, int columns) {
    const auto& planned = drawn.pattern;
    double far_ft = -4000.0, wide_ft = 2000.0;
    for (const Moment& moment : planned) far_ft = std::min(far_ft, moment.along_ft);
    for (const Moment& moment : planned) wide_ft = std::max(wide_ft, std::abs(moment.cross_ft));
    low_along_ft_ = std::floor((far_ft - 700.0) / k_grid_ft) * k_grid_ft;
    const double high_along_ft = 2000.0;
    feet_a_column_ = (high_along_ft - low_along_ft_) / static_cast<double>(columns - k_margin - 1);
    feet_a_row_ = 2.0 * feet_a_column_;
    // The pattern lies above the runway in the picture: left of it where traffic is left.
    side_ = drawn.plan.conditions.traffic == Traffic::left ? -1.0 : 1.0;
    top_ft_ = wide_ft + 500.0;
    rows_ = static_cast<int>(std::ceil((top_ft_ + 500.0) / feet_a_row_));
  }
  int rows() const { return rows_; }
  double low_along_ft() const { return low_along_ft_; }
  double side() const { return side_; }
  int column(double along_ft) const {
    return k_margin + static_cast<int>(std::lround((along_ft - low_along_ft_) / feet_a_column_));
  }
  int row(double cross_ft) const {
    return static_cast<int>(std::lround((top_ft_ - side_ * cross_ft) / feet_a_row_));
  }
  double top_ft() const { return top_ft_; }

 private:
  double low_along_ft_ = 0.0, feet_a_column_ = 100.0, feet_a_row_ = 200.0, side_ = -1.0, top_ft_ = 0.0;
  int rows_ = 0;
};

void draw_axes(Sheet& sheet, const Ground& ground, int rows) {
  const auto feet_text = [&](double feet) { return sheet.characters(fmt::format("{:.0f}", feet)); };
  for (double across = 0.0; across < ground.top_ft(); across += k_grid_ft)
    sheet.write(ground.row(ground.side() * across), 0,
                feet_text(across == 0.0 ? 0.0 : ground.side() * across), Ink::faint);
  for (double along = ground.low_along_ft(); along <= 1500.0; along += 2.0 * k_grid_ft) {
    const auto text = feet_text(along);
    sheet.write(rows, ground.column(along) - static_cast<int>(text.size()) / 2, text, Ink::faint);
    for (double across = k_grid_ft; across < ground.top_ft(); across += k_grid_ft)
      sheet.put(ground.row(ground.side() * across), ground.column(along), U'.', Ink::faint);
  }
}

void draw_runway(Sheet& sheet, const PlanRequest& plan, const Ground& ground) {
  const int row = ground.row(0.0);
  const double end_ft = std::min(plan.runway_end_along_ft, 2000.0);
  sheet.fill(row, ground.column(plan.threshold_along_ft), ground.column(end_ft), U'━');
  sheet.fill(row, ground.column(plan.box.low_ft), ground.column(plan.box.high_ft), U'█');
}

/// The way the airplane points on the picture, to the nearest quarter.
char32_t arrow(const Moment& moment, const PlanRequest& plan, double side) {
  static constexpr std::array<char32_t, 4> k_right_up_left_down{U'→', U'∧', U'←', U'v'};
  // A turn towards the pattern's side is one upwards in the picture.
  const double up_deg =
      side * std::remainder(moment.heading_true_deg - plan.conditions.runway_true_deg, 360.0);
  return k_right_up_left_down[static_cast<std::size_t>(std::lround(up_deg / 90.0) + 4) % 4];
}

void draw_way(Sheet& sheet, const Ground& ground, const std::vector<Moment>& way, char32_t sign, Ink ink) {
  for (const Moment& moment : way)
    sheet.put(ground.row(moment.cross_ft), ground.column(moment.along_ft), sign, ink);
}

}  // namespace

DrillGround ground_of(const Drill& drill) {
  return {drill.setting.plan, drill.setting.planned.trace};
}

std::string drill_sketch(const DrillGround& drawn, const DrillSketch& sketch, const PictureStyle& style) {
  Sheet sheet(style);
  const Ground ground(drawn, sheet.columns());
  draw_axes(sheet, ground, ground.rows());
  draw_runway(sheet, drawn.plan, ground);
  const Situation& situation = *sketch.situation;
  sheet.write(ground.row(situation.flown.front().cross_ft) - 1, ground.column(0.0) - 2, U"abeam");
  draw_way(sheet, ground, situation.flown, U'●', Ink::plain);
  if (sketch.told) draw_way(sheet, ground, situation.to_come, U'○', Ink::faint);
  sheet.put(ground.row(situation.now.cross_ft), ground.column(situation.now.along_ft),
            arrow(situation.now, drawn.plan, ground.side()));
  if (sketch.mark) sheet.put(ground.row(sketch.mark->cross_ft), ground.column(sketch.mark->along_ft), U'X');
  if (sketch.told) {
    const Ink ink = situation.energy == Energy::high  ? Ink::long_of_box
                    : situation.energy == Energy::low ? Ink::short_of_box
                                                      : Ink::plain;
    sheet.put(ground.row(situation.in_20_s.cross_ft), ground.column(situation.in_20_s.along_ft), U'@', ink);
    sheet.put(ground.row(situation.to_come.back().cross_ft), ground.column(situation.touchdown_ft), U'T',
              ink);
  }
  return sheet.text();
}

}  // namespace glidewright

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

#include "engine/air/atmosphere.hpp"
#include "engine/airplane/airplane.hpp"
#include "tests/engine/airplane/trainer_handbook.hpp"
#include "tests/where.hpp"

namespace glidewright {
namespace {

SteadyGlide at_maximum_weight(const Airplane& airplane, double speed_kt, double flap_deg, double slip) {
  return steady_glide(airplane.polar, Knots{speed_kt}, Pounds{airplane.handbook.maximum_weight_lb.value},
                      Degrees{flap_deg}, slip, 1.0);
}

// 1e-9: the fit solves for these numbers, so only rounding and the rounds of the glide angle are left.
TEST(FitAirplane, GivesTheHandbooksGlidesBack) {
  const Handbook book = trainer_handbook();
  const Airplane airplane = fit_airplane(book);
  EXPECT_NEAR(at_maximum_weight(airplane, 70.0, 0.0, 0.0).glide_ratio, 9.0, 1e-9);
  EXPECT_NEAR(at_maximum_weight(airplane, 68.0, 10.0, 0.0).glide_ratio, 8.3, 1e-9);
  EXPECT_NEAR(at_maximum_weight(airplane, 64.0, 30.0, 0.0).glide_ratio, 6.6, 1e-9);
  EXPECT_NEAR(at_maximum_weight(airplane, 70.0, 0.0, 1.0).glide_ratio, 0.7 * 9.0, 1e-9);
}

// The knee (drag growing faster than a parabola towards the stall) is already felt at 1.4 stall speeds: it
// draws the flattest glide some 3 % faster, where it is 0.4 % flatter than the handbook's. The bounds are
// twice that.
TEST(FitAirplane, FlattestGlideIsNearTheHandbooksSpeed) {
  const Airplane airplane = fit_airplane(trainer_handbook());
  const double speed = best_glide_speed(airplane.polar, Pounds{2400.0}, Degrees{0.0}).value;
  EXPECT_NEAR(speed, 70.0, 0.06 * 70.0);
  EXPECT_NEAR(at_maximum_weight(airplane, speed, 0.0, 0.0).glide_ratio, 9.0, 0.008 * 9.0);
}

TEST(FitAirplane, StallSpeedsAreTheHandbooks) {
  const Airplane airplane = fit_airplane(trainer_handbook());
  EXPECT_DOUBLE_EQ(airplane.polar.stall_kcas(2400.0, 0.0), 50.0);
  EXPECT_DOUBLE_EQ(airplane.polar.stall_kcas(2400.0, 10.0), 48.0);
  EXPECT_DOUBLE_EQ(airplane.polar.stall_kcas(2400.0, 30.0), 44.0);
}

TEST(FitAirplane, SaysWhatItAssumed) {
  Handbook book = trainer_handbook();
  const auto given = fit_airplane(book).assumptions.size();
  book.flaps[1].glide_ratio.reset();
  book.slip_drag_ratio.reset();
  EXPECT_EQ(fit_airplane(book).assumptions.size(), given + 2);
}

// From 1.3 clean stall speeds on; slower than that a flap may well pay, because it is farther from its stall.
TEST(FitAirplane, MoreFlapIsNeverLessDragAtApproachSpeeds) {
  Handbook book = trainer_handbook();
  for (auto& flap : book.flaps) flap.glide_ratio.reset();
  const Airplane airplane = fit_airplane(book);
  for (double speed = 65.0; speed < 90.0; speed += 5.0) {
    double before = 0.0;
    for (double flap = 0.0; flap <= 30.0; flap += 5.0) {
      const double drag = airplane.polar.drag_over_weight(speed, 2400.0, flap, 0.0, 1.0, 1.0);
      EXPECT_GE(drag, before) << speed << " kt, flap " << flap;
      before = drag;
    }
  }
}

/// A steady glide of another model, and how it was flown.
struct GlideRow {
  double flap_deg, speed_kt, weight_lb, altitude_ft, glide_ratio;
  double slip;
};

/// tests/data/flights/glide.csv: JSBSim, model c172p, which shares no code with this project. Rows that
/// stalled are left out, as its description says.
std::vector<GlideRow> other_models_glides() {
  std::ifstream file(where::test_data() + "/flights/glide.csv");
  std::vector<GlideRow> rows;
  std::string line;
  std::getline(file, line);
  while (std::getline(file, line)) {
    std::vector<std::string> cells;
    std::stringstream in(line);
    for (std::string cell; std::getline(in, cell, ',');) cells.push_back(cell);
    if (std::stod(cells.at(12)) > 1.0) continue;
    rows.push_back({std::stod(cells[0]), std::stod(cells[2]), std::stod(cells[3]), std::stod(cells[4]),
                    std::stod(cells[6]), cells[1] == "full" ? 1.0 : 0.0});
  }
  return rows;
}

/// What a handbook of that model would say: six glides at 2,400 lb and sea level out of 286.
Handbook other_models_handbook(const std::vector<GlideRow>& rows) {
  const auto ratio = [&](double flap, double speed, double slip) {
    const auto row = std::find_if(rows.begin(), rows.end(), [&](const GlideRow& r) {
      return r.flap_deg == flap && r.speed_kt == speed && r.slip == slip && r.weight_lb == 2400.0 &&
             r.altitude_ft == 0.0;
    });
    return row == rows.end() ? 0.0 : row->glide_ratio;
  };
  Handbook book = trainer_handbook();
  // Its glides are scattered by the propeller: 9.49 at 70 kt stands alone between 8.53 and 9.20. The
  // best-glide number is the mean over 70 to 80 kt.
  book.best_glide_speed_kcas.value = 75.0;
  book.best_glide_ratio.value = (ratio(0, 70, 0) + ratio(0, 75, 0) + ratio(0, 80, 0)) / 3.0;
  book.flaps = {{0.0, {52.0, 1.0, "model"}, {}, {}, 0.0, 0.0}};
  const double stalls[] = {50.0, 48.5, 47.0};
  for (int i = 1; i <= 3; ++i) {
    const double flap = 10.0 * i;
    book.flaps.push_back({flap,
                          {stalls[i - 1], 1.0, "model"},
                          SourcedNumber{ratio(flap, 70, 0), 0.3, "model"},
                          70.0,
                          100.0,
                          2.0});
  }
  book.slip_drag_ratio = SourcedNumber{ratio(0, 75, 1) / ratio(0, 75, 0), 0.05, "model"};
  return book;
}

TEST(FitAirplane, PredictsAnotherModelsGlides) {
  const auto rows = other_models_glides();
  ASSERT_GT(rows.size(), 250u);
  const Airplane airplane = fit_airplane(other_models_handbook(rows));
  struct Errors {
    double squares = 0.0, sum = 0.0, worst = 0.0;
    int count = 0;
    void add(double relative) {
      squares += relative * relative;
      sum += relative;
      worst = std::max(worst, std::abs(relative));
      ++count;
    }
    double rms() const { return std::sqrt(squares / count); }
    double mean() const { return sum / count; }
  };
  Errors straight, slipping;
  for (const auto& row : rows) {
    // Speeds of the approach: faster is not flown with flaps, and the other model's wing is near its stall
    // below 60.
    if (row.speed_kt < 60.0 || row.speed_kt > 80.0) continue;
    const auto glide =
        steady_glide(airplane.polar, Knots{row.speed_kt}, Pounds{row.weight_lb}, Degrees{row.flap_deg},
                     row.slip, standard_atmosphere(Feet{row.altitude_ft}).density);
    (row.slip > 0.0 ? slipping : straight).add(glide.glide_ratio / row.glide_ratio - 1.0);
  }
  // The plan takes 5 % for what it cannot know of the glide. The other model's own numbers jump by as much
  // from one speed to the next (8.53, 9.49, 9.20 at 65, 70, 75 kt), so no smooth polar comes much nearer.
  EXPECT_LT(straight.rms(), 0.05);
  EXPECT_LT(slipping.rms(), 0.05);
  // On the whole neither flatter nor steeper: 80 rows of that scatter leave 0.6 %, and twice that for the six
  // rows that stand for the handbook.
  EXPECT_LT(std::abs(straight.mean()), 0.018);
  EXPECT_LT(std::abs(slipping.mean()), 0.018);
}

}  // namespace
}  // namespace glidewright

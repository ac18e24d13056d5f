#include "engine/glide/turbulence.hpp"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <cmath>

#include "engine/lanes/philox.hpp"
#include "engine/plan/taught.hpp"
#include "engine/technique/approach.hpp"
#include "tests/engine/airplane/trainer_handbook.hpp"

namespace glidewright {
namespace {

// MIL-F-8785C, 3.7.3.4, low-altitude model: lengths and the ratio of horizontal to vertical intensity; values
// recomputed outside this project. Half of the last digit printed.
TEST(Turbulence, LengthsAndIntensitiesAreTheSpecifications) {
  const struct {
    double height_ft, length_ft, ratio;
  } rows[] = {{50.0, 310.8, 1.839}, {100.0, 505.2, 1.716}, {500.0, 944.7, 1.236}, {1000.0, 1000.0, 1.000}};
  for (const auto& row : rows) {
    const auto scales = turbulence::scales_at(row.height_ft);
    EXPECT_NEAR(scales.horizontal_length_ft, row.length_ft, 0.05) << row.height_ft;
    EXPECT_NEAR(scales.horizontal_over_vertical, row.ratio, 0.0005) << row.height_ft;
    EXPECT_EQ(scales.vertical_length_ft, row.height_ft);
  }
}

// MIL-F-8785C: light, moderate and severe turbulence are a tenth of 15, 30 and 45 kt at 20 ft.
TEST(Turbulence, VerticalIntensityIsATenthOfTheWindAtTwentyFeet) {
  WindProfile wind;
  wind.power_law_exponent = 0.0;
  for (const double kt : {15.0, 30.0, 45.0}) {
    wind.at_10m.speed = Knots{kt};
    EXPECT_NEAR(vertical_gust_sd_fps(wind, 1.0), 0.1 * kt * k_fps_per_knot, 1e-12);
    EXPECT_NEAR(vertical_gust_sd_fps(wind, 0.5), 0.05 * kt * k_fps_per_knot, 1e-12);
  }
  wind.at_10m.speed = Knots{0.0};
  EXPECT_EQ(vertical_gust_sd_fps(wind, 1.0), 0.0);
}

// Common practice, no source: a reported gust is three standard deviations of the wind along at 10 m.
TEST(Turbulence, AReportedGustIsThreeStandardDeviations) {
  WindProfile wind;
  wind.at_10m.speed = Knots{12.0};
  wind.gust = Knots{15.0};
  const auto at_10m = turbulence::scales_at(10.0 / k_metres_per_foot);
  EXPECT_NEAR(3.0 * vertical_gust_sd_fps(wind, 1.0) * at_10m.horizontal_over_vertical, 15.0 * k_fps_per_knot,
              1e-9);
}

/// Ticks in steady flight at one height.
std::vector<turbulence::Shaken<double>> shaken(double height_ft, double speed_fps, int ticks) {
  const auto scales = turbulence::scales_at(height_ft);
  turbulence::Shaken<double> air;
  std::vector<turbulence::Shaken<double>> all;
  for (int tick = 0; tick < ticks; ++tick) {
    const auto words = words_of_flight(11, 7, static_cast<std::uint32_t>(tick));
    turbulence::shake({turbulence::shock_of(words.word[0]), turbulence::shock_of(words.word[1]),
                       turbulence::shock_of(words.word[2])},
                      speed_fps, scales, 0.2, air);
    all.push_back(air);
  }
  return all;
}

// Variance 1 and a correlation that falls by e over its length. With 400,000 ticks of which some 12 are one
// independent look, the standard error of both is sqrt(2 x 24 / 400,000) = 0.011; four of them.
TEST(Turbulence, KeepsItsVarianceAndForgetsOverItsLength) {
  constexpr double height_ft = 300.0, speed_fps = 110.0;
  constexpr int ticks = 400000;
  const auto air = shaken(height_ft, speed_fps, ticks);
  const auto scales = turbulence::scales_at(height_ft);
  const int lag = static_cast<int>(std::lround(scales.horizontal_length_ft / (0.2 * speed_fps)));
  double sum = 0.0, squares = 0.0, lagged = 0.0, cross = 0.0, up_squares = 0.0;
  for (int i = 0; i < ticks; ++i) {
    sum += air[i].along;
    squares += air[i].along * air[i].along;
    up_squares += air[i].up * air[i].up;
    cross += air[i].along * air[i].up;
    if (i >= lag) lagged += air[i].along * air[i - lag].along;
  }
  EXPECT_NEAR(sum / ticks, 0.0, 0.045);
  EXPECT_NEAR(squares / ticks, 1.0, 0.045);
  EXPECT_NEAR(up_squares / ticks, 1.0, 0.045);
  EXPECT_NEAR(cross / ticks, 0.0, 0.045);
  EXPECT_NEAR(lagged / (ticks - lag), std::exp(-lag * 0.2 * speed_fps / scales.horizontal_length_ft), 0.045);
}

// What the air gains, the velocity through it loses: the one over the ground is the same to first order.
RC_GTEST_PROP(Turbulence, LeavesTheVelocityOverTheGround, ()) {
  const auto between = [](int low, int high) { return 0.01 * *rc::gen::inRange(100 * low, 100 * high); };
  FlightStateOf<double> state;
  state.speed_fps = between(80, 150);
  state.heading_rad = between(-3, 3);
  state.path_rad = between(-20, 10) / 100.0;
  const GustOf<double> change{between(-5, 5), between(-5, 5), between(-5, 5)};
  const auto velocity = [](const FlightStateOf<double>& s, const GustOf<double>& gust, double(&v)[3]) {
    v[0] = s.speed_fps * std::cos(s.path_rad) * std::cos(s.heading_rad) + gust.along_fps;
    v[1] = s.speed_fps * std::cos(s.path_rad) * std::sin(s.heading_rad) + gust.cross_fps;
    v[2] = s.speed_fps * std::sin(s.path_rad) + gust.up_fps;
  };
  double before[3], after[3];
  velocity(state, {}, before);
  OverGroundOf<double> over;
  over.heading = sine_cosine(state.heading_rad);
  over.path = sine_cosine(state.path_rad);
  constexpr double for_s = 0.02;
  turbulence::drift(turbulence::drift_through(change, over, state, FlightStateOf<double>{}, for_s), for_s,
                    state);
  velocity(state, turbulence::changed(GustOf<double>{}, change, for_s), after);
  // Left out: the change squared over the speed, (0.1 ft/s)^2 / 80, a few times.
  for (int i = 0; i < 3; ++i) RC_ASSERT(std::abs(after[i] - before[i]) < 1e-3);
}

class InRoughAir : public testing::Test {
 protected:
  Approach flown(const TurbulentAir& air) const {
    return fly(airplane_, conditions_, technique_, {}, {0.05, Trace::none}, air);
  }
  Airplane airplane_ = fit_airplane(trainer_handbook());
  Conditions conditions_ = [] {
    Conditions conditions;
    conditions.wind.at_10m = {Degrees{20.0}, Knots{10.0}};
    return conditions;
  }();
  Technique technique_ = [this] {
    Technique technique = without_rules(taught_technique(airplane_, 2300.0, 0.0));
    technique.base_turn_s_after_abeam = 13.0;
    return technique;
  }();
};

TEST_F(InRoughAir, TheSameFlightMeetsTheSameAirAndAnotherMeetsAnother) {
  const double here = flown({1.5, 3, 8}).touchdown->along_ft;
  EXPECT_EQ(flown({1.5, 3, 8}).touchdown->along_ft, here);
  EXPECT_NE(flown({1.5, 3, 9}).touchdown->along_ft, here);
  EXPECT_NE(flown({1.5, 4, 8}).touchdown->along_ft, here);
  EXPECT_EQ(flown({0.0, 3, 8}).touchdown->along_ft, flown({}).touchdown->along_ft);
}

TEST_F(InRoughAir, AMirroredPatternMeetsMirroredAir) {
  const auto left = flown({1.5, 3, 8});
  conditions_.traffic = Traffic::right;
  conditions_.wind.at_10m.from_true = Degrees{-20.0};
  const auto right = flown({1.5, 3, 8});
  EXPECT_NEAR(right.touchdown->along_ft, left.touchdown->along_ft, 1e-6);
  EXPECT_NEAR(right.touchdown->cross_ft, -left.touchdown->cross_ft, 1e-6);
}

// An outside simulation with the same model moved the touchdown by 90, 174 and 257 ft (standard deviation)
// where the wind at 20 ft was 4, 8 and 12 ft/s, another airplane and autopilot: half to twice as much here.
TEST_F(InRoughAir, MovesTheTouchdownAsMuchAsAnotherSimulationSays) {
  const struct {
    double wind_at_20_ft_fps, touchdown_sd_ft;
  } rows[] = {{4.0, 90.0}, {8.0, 174.0}, {12.0, 257.0}};
  for (const auto& row : rows) {
    constexpr int flights = 60;
    double sum = 0.0, squares = 0.0;
    for (std::uint64_t i = 0; i < flights; ++i) {
      const double along = flown({0.1 * row.wind_at_20_ft_fps, 1, i}).touchdown->along_ft;
      sum += along;
      squares += along * along;
    }
    const double sd = std::sqrt(squares / flights - sum * sum / flights / flights);
    EXPECT_GT(sd, 0.5 * row.touchdown_sd_ft);
    EXPECT_LT(sd, 2.0 * row.touchdown_sd_ft);
  }
}

}  // namespace
}  // namespace glidewright

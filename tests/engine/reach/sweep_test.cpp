#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <random>

#include "engine/batch/batch.hpp"
#include "engine/reach/policy.hpp"
#include "engine/reach/smooth_wind.hpp"
#include "engine/reach/sweep_code.hpp"
#include "tests/engine/reach/band_over.hpp"

namespace glidewright::reach {
namespace {

/// Four lines of numbers, a wind and a step, with room around the lines for whole vectors.
struct Scene {
  static constexpr int k_width = 61, k_margin = 16;
  std::vector<std::vector<float>> lines;
  WindTerms wind{};
  Step step{95.0F, 40.0F, 9.0F, 12.0F, 2.9F, 1.1F, 0.5F, -1.5F};
  TurnLine turn{};
  StraightLine straight{};

  /// fixed: of a cell, ahead and aside. Near a half, no place is carried past the next cell by this wind.
  explicit Scene(float fixed) : lines(4, std::vector<float>(k_width + 2 * k_margin)) {
    std::mt19937 random(7);
    std::uniform_real_distribution<float> height(200.0F, 1200.0F), small(-1.0F, 1.0F);
    for (auto& line : lines) {
      for (float& value : line) value = height(random);
    }
    for (int i = 0; i < WindTerms::k_terms; ++i) {
      wind.ahead_fps[i] = 5.0F * small(random);
      wind.aside_fps[i] = 5.0F * small(random);
    }
    for (int i = 0; i < WindTerms::k_slope_terms; ++i) {
      wind.ahead_per_s[i] = 0.01F * small(random);
      wind.aside_per_s[i] = 0.01F * small(random);
    }
    wind.middle_ft = 900.0F;
    wind.scaled_per_ft = 1.0F / 800.0F;
    for (int i = 0; i < 4; ++i) turn.rows[i] = line(i);
    turn.lines_fixed = turn.cells_fixed = fixed;
    turn.wind_cells = 0.0125F;
    turn.width = k_width;
    straight = {line(0), 40.0F, 1.0F, 0.42F - fixed, 3, k_width - 2, true};
  }
  const float* line(int number) const { return lines[static_cast<std::size_t>(number)].data() + k_margin; }
};

struct Tried {
  std::vector<float> turned, lowest, highest;
  std::vector<std::int16_t> kept;
};

Tried through(const SweepCode& code, const Scene& scene) {
  const auto line_of = [](float value) {
    return std::vector<float>(Scene::k_width + Scene::k_margin, value);
  };
  Tried tried{line_of(0.0F), line_of(500.0F), line_of(500.0F), std::vector<std::int16_t>(Scene::k_width)};
  code.turn(scene.wind, scene.step, scene.turn, tried.turned.data());
  code.keep(tried.turned.data(), Scene::k_width, tried.kept.data());
  StraightLine line = scene.straight;
  code.straight(scene.wind, scene.step, line, tried.lowest.data());
  line.lowest = false;
  code.straight(scene.wind, scene.step, line, tried.highest.data());
  tried.turned.resize(Scene::k_width);
  return tried;
}

constexpr float k_fixed[] = {0.5F, 0.02F, 0.98F};

std::vector<SweepCode> codes_here() {
  std::vector<SweepCode> codes = {sweep_code_baseline()};
#if defined(__x86_64__)
  for (const InstructionSet set : instruction_sets_here()) {
    if (set == InstructionSet::avx2) codes.push_back(sweep_code_avx2());
    if (set == InstructionSet::avx512) codes.push_back(sweep_code_avx512());
  }
#endif
  return codes;
}

TEST(Sweep, EveryInstructionSetGivesTheSameBits) {
  for (const float fixed : k_fixed) {
    const Scene scene(fixed);
    const Tried baseline = through(sweep_code_baseline(), scene);
    for (const SweepCode& code : codes_here()) {
      const Tried other = through(code, scene);
      EXPECT_EQ(baseline.turned, other.turned);
      EXPECT_EQ(baseline.lowest, other.lowest);
      EXPECT_EQ(baseline.highest, other.highest);
      EXPECT_EQ(baseline.kept, other.kept);
    }
    EXPECT_NE(baseline.turned.front(), baseline.turned.back());
  }
}

// The same steps cell by cell, as slow and plain as can be.

float sum_of(const float* terms, int count, float x) {
  float value = 0.0F;
  for (int i = count - 1; i >= 0; --i) value = value * x + terms[i];
  return value;
}

struct PlainAir {
  float ahead_fps, aside_fps, shear;
};

PlainAir plain_air(const Scene& scene, float energy_height_ft) {
  const WindTerms& wind = scene.wind;
  const float x =
      std::clamp((energy_height_ft - scene.step.energy_above_final_ft - wind.middle_ft) * wind.scaled_per_ft,
                 -1.0F, 1.0F);
  return {sum_of(wind.ahead_fps, WindTerms::k_terms, x), sum_of(wind.aside_fps, WindTerms::k_terms, x),
          1.0F + scene.step.shear_ahead * sum_of(wind.ahead_per_s, WindTerms::k_slope_terms, x) +
              scene.step.shear_aside * sum_of(wind.aside_per_s, WindTerms::k_slope_terms, x)};
}

/// Heights at -1, 0, 1 and 2, joined by straight lines, the outer ones carried on.
float joined(float before, float here, float next, float after, float at) {
  if (at < 0.0F) return here + at * (here - before);
  if (at > 1.0F) return next + (at - 1.0F) * (after - next);
  return here + at * (next - here);
}
float joined(const float* row, float at) {
  return joined(row[-1], row[0], row[1], row[2], at);
}

/// A few roundings of a height below 10,000 ft to 24 bits.
constexpr float k_rounding_of_floats_ft = 0.01F;

TEST(Sweep, EachCellOfALineTurnsAsItWouldAlone) {
  for (const float fixed : k_fixed) {
    const Scene scene(fixed);
    const Tried tried = through(sweep_code_baseline(), scene);
    int beyond_the_next = 0;
    for (int n = 0; n < Scene::k_width; ++n) {
      const PlainAir air = plain_air(scene, scene.line(1)[n]);
      const float ahead = fixed + air.ahead_fps * scene.turn.wind_cells;
      const float aside = fixed + air.aside_fps * scene.turn.wind_cells;
      beyond_the_next += ahead < 0.0F || ahead > 1.0F || aside < 0.0F || aside > 1.0F;
      const auto in_line = [&](int row) { return joined(scene.line(row) + n, aside); };
      const float there = joined(in_line(0), in_line(1), in_line(2), in_line(3), ahead);
      const float spent_ft = scene.step.sink_fps * scene.step.seconds / air.shear + scene.step.extra_ft;
      EXPECT_NEAR(tried.turned[static_cast<std::size_t>(n)], there + spent_ft, k_rounding_of_floats_ft) << n;
    }
    // Lines that stay between two cells, and lines that do not.
    EXPECT_EQ(beyond_the_next > 0, fixed != 0.5F);
  }
}

TEST(Sweep, StraightOnIsTakenWhereItIsBetterAndAllowed) {
  for (const float fixed : k_fixed) {
    const Scene scene(fixed);
    const Tried tried = through(sweep_code_baseline(), scene);
    for (int n = 0; n < Scene::k_width + Scene::k_margin; ++n) {
      const auto at = static_cast<std::size_t>(n);
      float lowest_ft = 500.0F, highest_ft = 500.0F;
      if (n >= scene.straight.first && n < scene.straight.last) {
        const float* next = scene.straight.next + n;
        const PlainAir air = plain_air(scene, *next);
        const float seconds = scene.straight.cell_ft / (scene.step.air_ahead_fps + air.ahead_fps);
        const float aside = (scene.step.air_aside_fps + air.aside_fps) * seconds / scene.straight.cell_ft -
                            scene.straight.cells_fixed;
        const float there_ft = joined(next, aside) + scene.step.sink_fps * seconds / air.shear;
        lowest_ft = std::min(lowest_ft, there_ft);
        highest_ft = std::max(highest_ft, there_ft);
      }
      EXPECT_NEAR(tried.lowest[at], lowest_ft, k_rounding_of_floats_ft) << n;
      EXPECT_NEAR(tried.highest[at], highest_ft, k_rounding_of_floats_ft) << n;
    }
  }
}

TEST(Sweep, HeightsAreKeptToTheNearestHalfFoot) {
  std::vector<float> heights_ft = {0.0F,     0.2F,  0.25F,     0.26F,     0.75F,    1.25F,
                                   -0.25F,   -0.3F, 16.1F,     999.9F,    15999.9F, 16000.0F,
                                   16000.5F, 1e9F,  -16000.0F, -20000.0F, -1e9F};
  constexpr std::size_t short_line = 5;
  heights_ft.resize(heights_ft.size() + 16);  // read in whole vectors
  for (const std::size_t count : {short_line, heights_ft.size() - 16}) {
    for (const SweepCode& code : codes_here()) {
      std::vector<std::int16_t> kept(count + 1, 7);
      code.keep(heights_ft.data(), static_cast<int>(count), kept.data());
      for (std::size_t i = 0; i < count; ++i) {
        EXPECT_EQ(kept[i], std::lrint(std::clamp(2.0F * heights_ft[i], -32000.0F, 32000.0F)))
            << heights_ft[i];
      }
      EXPECT_EQ(kept.back(), 7) << "written past the end";
    }
  }
}

TEST(Sweep, TheSmoothWindIsTheProfileWithinAFootPerSecond) {
  for (const bool with_aloft : {false, true}) {
    WindProfile profile;
    profile.at_10m = {Degrees{20.0}, Knots{15.0}};
    if (with_aloft) profile.aloft = Wind{Degrees{50.0}, Knots{25.0}};
    const WindField field(profile, Degrees{0.0}, WindField::Mirrored::no, Knots{0.0}, Knots{0.0});
    EXPECT_LT(SmoothWind(field).largest_error_fps(), 1.0);
  }
}

/// Its terms, summed at a height as the sweep does.
TEST(Sweep, TheTermsSumToTheWindAndItsSlope) {
  WindProfile profile;
  profile.at_10m = {Degrees{30.0}, Knots{12.0}};
  const WindField field(profile, Degrees{0.0}, WindField::Mirrored::no, Knots{0.0}, Knots{0.0});
  const WindTerms terms = SmoothWind(field).terms(true);
  for (const double height_ft : {250.0, 600.0, 1000.0}) {
    const double x = (height_ft - terms.middle_ft) * terms.scaled_per_ft;
    double along = 0.0, slope = 0.0, power = 1.0;
    for (int i = 0; i < WindTerms::k_terms; ++i, power *= x) {
      along += terms.ahead_fps[i] * power;
      if (i < WindTerms::k_slope_terms) slope += terms.ahead_per_s[i] * power;
    }
    EXPECT_NEAR(along, field.at(height_ft).along_fps, 0.3) << height_ft;
    EXPECT_NEAR(slope, field.at(height_ft).along_per_s, 0.003) << height_ft;
  }
}

FlightState gliding_at(const PlaceInPattern& at, const Band& band) {
  FlightState state;
  state.along_ft = at.along_ft;
  state.cross_ft = at.cross_ft;
  state.heading_rad = at.heading_rad;
  state.speed_fps = band.flight().true_fps(band.request().technique.base_speed_kt);
  state.path_rad = -0.1;
  return state;
}

TEST(Sweep, TheWayThatTheBandKnowsLandsInTheBox) {
  for (const double wind_kt : {0.0, 10.0}) {
    const BandRequest request = band_request(wind_kt);
    const Band band = Band::over(request, Surety::mean);
    for (const auto& at :
         {place(-800.0, -request.technique.spacing_ft, 180.0), place(-2900.0, -1800.0, 90.0)}) {
      const Room room = band.room(at, Surety::mean);
      FlightState state = gliding_at(at, band);
      state.height_ft = 0.5 * (room.lowest_with_landing_flap_ft + std::min(room.by_flaps_ft, 1200.0));
      const FlownFrom flown = fly_from(band.flight(), request.technique, state, steer_by(band));
      EXPECT_TRUE(flown.lined_up_at_gate);
      EXPECT_GE(flown.along_ft, request.box.low_ft) << wind_kt << " kt from " << at.cross_ft;
      EXPECT_LE(flown.along_ft, request.box.high_ft) << wind_kt << " kt from " << at.cross_ft;
      EXPECT_LE(flown.steepest_bank_deg, request.means.bank_deg + 0.5);
    }
  }
}

/// Room in feet of height is the same all along downwind; that soon no turn will fit it does not show.
TEST(Sweep, TheWayFromDownwindLandsFromEveryHeightInside) {
  const BandRequest request = band_request(10.0, -60.0);  // it drifts towards the runway
  const Band band = Band::over(request, Surety::mean);
  const PlaceInPattern at = place(-300.0, -2300.0, 180.0);
  const Room room = band.room(at, Surety::mean);
  const double inside_ft = 0.1 * (room.by_slip_ft - room.lowest_ft);
  FlightState state = gliding_at(at, band);
  int flown = 0;
  for (state.height_ft = room.lowest_ft + inside_ft; state.height_ft <= room.by_slip_ft - inside_ft;
       state.height_ft += 50.0) {
    if (room.margin_ft(state.height_ft) < inside_ft) continue;
    ++flown;
    const FlownFrom landed = fly_from(band.flight(), request.technique, state, steer_by(band));
    EXPECT_TRUE(landed.lined_up_at_gate) << state.height_ft;
    EXPECT_GE(landed.along_ft, request.box.low_ft) << state.height_ft;
    EXPECT_LE(landed.along_ft, request.box.high_ft) << state.height_ft;
  }
  EXPECT_GE(flown, 8);
}

}  // namespace
}  // namespace glidewright::reach

#include <gtest/gtest.h>

#include <random>

#include "engine/batch/batch.hpp"
#include "engine/reach/policy.hpp"
#include "engine/reach/smooth_wind.hpp"
#include "engine/reach/sweep_code.hpp"
#include "tests/engine/reach/band_over.hpp"

namespace glidewright::reach {
namespace {

struct Tried {
  std::vector<float> turned, straight;
};

/// Some lines of numbers through one instruction set's code.
Tried through(const SweepCode& code) {
  constexpr int width = 61, margin = 4;
  std::mt19937 random(7);
  std::uniform_real_distribution<float> height(200.0F, 1200.0F), small(-1.0F, 1.0F);
  std::vector<std::vector<float>> lines(4, std::vector<float>(width + 2 * margin));
  for (auto& line : lines) {
    for (float& value : line) value = height(random);
  }
  WindTerms wind{};
  for (int i = 0; i < WindTerms::k_terms; ++i) {
    wind.ahead_fps[i] = 20.0F * small(random);
    wind.aside_fps[i] = 20.0F * small(random);
    wind.ahead_per_s[i] = 0.01F * small(random);
    wind.aside_per_s[i] = 0.01F * small(random);
  }
  wind.middle_ft = 900.0F;
  wind.scaled_per_ft = 1.0F / 800.0F;
  const Step step{95.0F, 40.0F, 9.0F, 12.0F, 2.9F, 1.1F, 0.5F, -1.5F};
  TurnLine turn{};
  for (int i = 0; i < 4; ++i) turn.rows[i] = lines[static_cast<std::size_t>(i)].data() + margin;
  turn.lines_fixed = 0.3F;
  turn.cells_fixed = 0.6F;
  turn.wind_cells = 0.0125F;
  turn.width = width;
  Tried tried{std::vector<float>(width), std::vector<float>(width, 500.0F)};
  code.turn(wind, step, turn, tried.turned.data());
  code.straight(wind, step, {lines[0].data() + margin, 40.0F, 1.0F, 0.0F, 3, width - 2, true},
                tried.straight.data());
  return tried;
}

TEST(Sweep, EveryInstructionSetGivesTheSameBits) {
  const Tried baseline = through(sweep_code_baseline());
#if defined(__x86_64__)
  for (const InstructionSet set : instruction_sets_here()) {
    if (set == InstructionSet::baseline) continue;
    const Tried other = through(set == InstructionSet::avx2 ? sweep_code_avx2() : sweep_code_avx512());
    EXPECT_EQ(baseline.turned, other.turned) << name_of(set);
    EXPECT_EQ(baseline.straight, other.straight) << name_of(set);
  }
#endif
  EXPECT_NE(baseline.turned.front(), baseline.turned.back());
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
      slope += terms.ahead_per_s[i] * power;
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

#include "engine/calibration/glides_in_panel.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <functional>

#include "tests/engine/airplane/trainer_handbook.hpp"

namespace glidewright {
namespace {

using testing::HasSubstr;

const Airplane& trainer() {
  static const Airplane airplane = fit_airplane(trainer_handbook());
  return airplane;
}

constexpr double k_start_unix_s = 1.77e9;
constexpr double k_weight_lb = 2300.0;

/// Level for 30 s with power, then a straight idle glide at 70 kt from 2,000 ft, once a second for `glide_s`,
/// then a minute on a runway at 800 ft; sea-level density is read from the panel.
std::vector<PanelSample> recording(int glide_s, const std::function<void(int, PanelSample&)>& change = {}) {
  std::vector<PanelSample> panel;
  double altitude_ft = 2000.0;
  for (int second = 0; second < 30 + glide_s + 60; ++second) {
    const int gliding = second - 30;
    PanelSample sample;
    sample.time_unix_s = k_start_unix_s + second;
    sample.indicated_airspeed_kt = gliding < glide_s ? 70.0 : 0.0;
    sample.roll_deg = 0.0;
    sample.heading_true_deg = 90.0;
    sample.flap_deg = 0.0;
    sample.powerplant_rpm = gliding < 0 ? 2200.0 : 900.0;
    sample.outside_air_temperature_c = 11.0;
    if (gliding >= glide_s) altitude_ft = 800.0;
    sample.pressure_altitude_ft = altitude_ft;
    if (gliding >= 0 && gliding < glide_s && change) change(gliding, sample);
    panel.push_back(sample);
    if (gliding >= 0 && gliding < glide_s) {
      const auto glide =
          steady_glide(trainer().polar, Knots{70.0}, Pounds{k_weight_lb}, Degrees{0.0}, 0.0, 0.955);
      altitude_ft -= glide.sink_fpm / 60.0;
    }
  }
  return panel;
}

PanelGlides glides_of(const std::vector<PanelSample>& panel) {
  return glides_in_panel(panel, trainer(), {.weight_lb = k_weight_lb});
}

TEST(GlidesInPanel, FindsTheGlideAndItsSink) {
  const auto found = glides_of(recording(41));
  ASSERT_EQ(found.glides.size(), 2U);  // cut after 20 s each
  EXPECT_EQ(found.none_because, "");
  EXPECT_TRUE(found.notes.empty());
  const auto& glide = found.glides[0];
  EXPECT_NEAR(glide.calibrated_airspeed_kt, 70.0, 1e-9);
  EXPECT_EQ(glide.begin_unix_s, k_start_unix_s + 30.0);
  // At constant calibrated airspeed true airspeed falls with height: 229 ft of V^2/2g, at 3.7e-5 a foot in
  // air of one temperature, is 0.84 % or 6.7 ft/min. 1.5: the thermometer is 0.1 % off the standard's.
  const double slowing_fpm = 6.7;
  const auto flown =
      steady_glide(trainer().polar, Knots{70.0}, Pounds{k_weight_lb}, Degrees{0.0}, 0.0, 0.955);
  EXPECT_NEAR(glide.sink_fpm, flown.sink_fpm + slowing_fpm, 1.5);
}

TEST(GlidesInPanel, LeavesOutWhatIsNoSteadyIdleGlide) {
  const auto none = [](const std::function<void(int, PanelSample&)>& change) {
    const auto found = glides_of(recording(40, change));
    EXPECT_FALSE(found.none_because.empty());
    return found.glides.empty();
  };
  EXPECT_TRUE(none([](int, PanelSample& s) { s.powerplant_rpm = 1700.0; }));
  EXPECT_TRUE(none([](int, PanelSample& s) { s.roll_deg = 20.0; }));
  EXPECT_TRUE(none([](int i, PanelSample& s) { s.indicated_airspeed_kt = 70.0 + 6.0 * (i % 2); }));
  EXPECT_TRUE(none([](int i, PanelSample& s) { s.flap_deg = i; }));
  EXPECT_TRUE(none([](int, PanelSample& s) { s.pressure_altitude_ft = 1500.0; }));
  EXPECT_TRUE(none([](int, PanelSample& s) { s.indicated_airspeed_kt = 52.0; }));  // at the stall
}

/// A thermometer that reads whole degrees must not look like a climb.
TEST(GlidesInPanel, TakesAThermometerThatJumps) {
  const auto steady = glides_of(recording(20));
  const auto jumping = glides_of(
      recording(20, [](int i, PanelSample& s) { s.outside_air_temperature_c = i < 10 ? 11.0 : 12.0; }));
  ASSERT_EQ(jumping.glides.size(), 1U);
  // Half a degree on average is 0.2 % of the path; the jump in true airspeed adds 0.8 ft, 4 ft/min over 20 s.
  EXPECT_NEAR(jumping.glides[0].sink_fpm, steady.glides[0].sink_fpm, 6.0);
}

/// A bank of 5 degrees turns the heading by 1.4 degrees a second, unless the other rudder holds it.
TEST(GlidesInPanel, LeavesOutASlip) {
  const auto slip = glides_of(recording(40, [](int, PanelSample& s) { s.roll_deg = 5.0; }));
  EXPECT_TRUE(slip.glides.empty());
  const auto shallow_turn = glides_of(recording(40, [](int i, PanelSample& s) {
    s.roll_deg = 5.0;
    s.heading_true_deg = 350.0 + 1.37 * i > 360.0 ? 1.37 * i - 10.0 : 350.0 + 1.37 * i;
  }));
  EXPECT_FALSE(shallow_turn.glides.empty());
}

TEST(GlidesInPanel, LeavesOutTheGroundEffect) {
  for (const auto& glide : glides_of(recording(80)).glides) {
    EXPECT_LT(glide.begin_unix_s + glide.duration_s, k_start_unix_s + 30.0 + 87.0);
  }
  // 80 s of it would lead below the runway's height: what lies under 1.5 spans above it is not taken.
  const auto panel = recording(80);
  for (const auto& glide : glides_of(panel).glides) {
    const auto last = static_cast<std::size_t>(glide.begin_unix_s + glide.duration_s - k_start_unix_s);
    EXPECT_GT(*panel[last].pressure_altitude_ft, 800.0 + 54.0);
  }
}

TEST(GlidesInPanel, WithoutPowerColumnTakesWhatSinksLikeAGlide) {
  auto panel = recording(40);
  for (auto& sample : panel) sample.powerplant_rpm.reset();
  const auto found = glides_of(panel);
  EXPECT_FALSE(found.glides.empty());
  EXPECT_THAT(found.notes, testing::Contains(HasSubstr("power was not recorded")));
  // Half of the sink, as with half the power: not taken.
  const double top_ft = *panel[30].pressure_altitude_ft;
  for (int i = 30; i < 70; ++i) {
    auto& altitude = panel[static_cast<std::size_t>(i)].pressure_altitude_ft;
    altitude = top_ft + 0.5 * (*altitude - top_ft);
  }
  EXPECT_TRUE(glides_of(panel).glides.empty());
}

TEST(GlidesInPanel, SaysWhatTheRecordingLacks) {
  auto panel = recording(40);
  for (auto& sample : panel) {
    sample.flap_deg.reset();
    sample.heading_true_deg.reset();
    sample.outside_air_temperature_c.reset();
  }
  EXPECT_EQ(glides_of(panel).notes.size(), 3U);
  for (auto& sample : panel) sample.indicated_airspeed_kt.reset();
  EXPECT_THAT(glides_of(panel).none_because, HasSubstr("airspeed and altitude"));
  EXPECT_FALSE(glides_of({}).none_because.empty());
}

}  // namespace
}  // namespace glidewright

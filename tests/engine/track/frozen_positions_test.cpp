// A receiver that repeats its last position is found out; an airplane that stands still is left alone.

#include "engine/track/frozen_positions.hpp"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include "tests/engine/track/drawn_flight.hpp"
#include "tests/engine/track/reference_flight.hpp"

namespace glidewright {
namespace {

const RunwayFrame k_frame({.airfield = "invented",
                           .designator = "27",
                           .threshold = {48.0, 11.0},
                           .true_bearing = {270.0},
                           .elevation = {1500.0},
                           .length = {4000.0}},
                          Feet{800.0});

Fix level_fix(double time_unix_s, double along_ft) {
  Fix fix;
  fix.time_unix_s = time_unix_s;
  fix.place = k_frame.to_geodetic({along_ft, 0.0});
  fix.altitude_ft = 2500.0;
  return fix;
}

/// Along a straight line at these ground speeds, one fix after each step.
std::vector<Fix> straight(const std::vector<double>& speeds_kt, double step_s = 1.0) {
  double along_ft = 0.0, time_s = drawn::k_first_unix_s;
  std::vector<Fix> fixes = {level_fix(time_s, along_ft)};
  for (const double speed_kt : speeds_kt) {
    along_ft += speed_kt * k_fps_per_knot * step_s;
    time_s += step_s;
    fixes.push_back(level_fix(time_s, along_ft));
  }
  return fixes;
}

/// first to last show the place of the fix before them.
void freeze(std::vector<Fix>& fixes, std::size_t first, std::size_t last) {
  for (std::size_t i = first; i <= last; ++i) {
    fixes[i].place = fixes[first - 1].place;
    fixes[i].altitude_ft = fixes[first - 1].altitude_ft;
  }
}

/// Out of the parking place, round the pattern, to a full stop with all the brakes there are, and parked
/// again.
TrackLog from_parking_to_parking(drawn::Recorder recorder) {
  using namespace drawn;
  const Circuit circuit;
  const std::vector<Leg> before = {{30.0, 0.0}, {4.0, 8.0},   {20.0, 10.0},       {5.0, 0.0},
                                   {20.0, 0.0}, {14.0, 65.0}, {40.0, 75.0, 12.0}, {20.0, 85.0}};
  const std::vector<Leg> after = {{60.0, 70.0, -10.0}, {4.0, 60.0}, {6.0, 0.0}, {60.0, 0.0}};
  return fly(k_frame, {}, before + circuit.legs() + after, {}, recorder);
}

/// A receiver with a hold shows one place until it has moved off by 40 ft.
void hold_while_standing(std::vector<Fix>& fixes) {
  constexpr double held_ft = 40.0;
  std::optional<RunwayPoint> held;
  Fix held_fix;
  std::size_t calm = 0;
  for (Fix& fix : fixes) {
    const RunwayPoint here = k_frame.to_runway(fix.place);
    if (held && std::hypot(here.along_ft - held->along_ft, here.cross_ft - held->cross_ft) < held_ft) {
      if (++calm > 3) {
        fix.place = held_fix.place;
        fix.altitude_ft = held_fix.altitude_ft;
      }
    } else {
      held = here;
      held_fix = fix;
      calm = 0;
    }
  }
}

TEST(FrozenPositions, RepeatsInFlightAreFoundWithTheirEnds) {
  auto fixes = straight(std::vector<double>(20, 70.0));
  freeze(fixes, 8, 12);
  const auto frozen = frozen_fixes(fixes);
  ASSERT_EQ(frozen.size(), 1u);
  EXPECT_EQ(frozen[0].first, 8u);
  EXPECT_EQ(frozen[0].last, 12u);
}

TEST(FrozenPositions, OneLostSecondAtSixtyKnotsIsFoundToo) {
  auto fixes = straight(std::vector<double>(20, 60.0));
  freeze(fixes, 9, 9);
  ASSERT_EQ(frozen_fixes(fixes).size(), 1u);
}

TEST(FrozenPositions, TheLastPositionRepeatedToTheEndIsFound) {
  auto fixes = straight(std::vector<double>(30, 65.0));
  freeze(fixes, 20, 30);
  const auto frozen = frozen_fixes(fixes);
  ASSERT_EQ(frozen.size(), 1u);
  EXPECT_EQ(frozen[0].last, 30u);
}

TEST(FrozenPositions, TheHeightLostWithTheSatellitesIsNoOtherPosition) {
  auto fixes = straight(std::vector<double>(20, 70.0));
  freeze(fixes, 8, 12);
  for (std::size_t i = 8; i <= 12; ++i) fixes[i].altitude_ft.reset();
  EXPECT_EQ(frozen_fixes(fixes).size(), 1u);
}

TEST(FrozenPositions, AnotherHeightIsAnotherMeasurement) {
  auto fixes = straight(std::vector<double>(20, 70.0));
  freeze(fixes, 8, 12);
  for (std::size_t i = 8; i <= 12; ++i) *fixes[i].altitude_ft -= static_cast<double>(i);
  EXPECT_TRUE(frozen_fixes(fixes).empty());
}

TEST(FrozenPositions, AReceiverThatMeasuresEveryThirdSecondIsFound) {
  auto fixes = straight(std::vector<double>(60, 75.0));
  for (std::size_t i = 1; i + 1 < fixes.size(); i += 3) freeze(fixes, i, i + 1);
  const auto frozen = frozen_fixes(fixes);
  // The first three show nothing of what was before them.
  EXPECT_EQ(frozen.size(), 17u);
  EXPECT_EQ(frozen[0].first, 10u);
}

TEST(FrozenPositions, ALogThatBeginsWithRepeatsIsLeftAlone) {
  auto fixes = straight(std::vector<double>(20, 70.0));
  freeze(fixes, 1, 6);
  EXPECT_TRUE(frozen_fixes(fixes).empty());
}

// 0.5 g: what disc brakes and dry tarmac give (20 kt shed in 2 s), down to exact repeats of the parked place.
TEST(FrozenPositions, HardBrakingIsAStop) {
  for (const double step_s : {0.1, 0.2, 0.5, 1.0, 2.0, 5.0}) {
    std::vector<double> speeds_kt(static_cast<std::size_t>(40.0 / step_s), 60.0);
    for (double kt = 60.0 - 10.0 * step_s / 2.0; kt > 0.0; kt -= 10.0 * step_s) speeds_kt.push_back(kt);
    speeds_kt.insert(speeds_kt.end(), 20, 0.0);
    EXPECT_TRUE(frozen_fixes(straight(speeds_kt, step_s)).empty()) << step_s;
  }
}

TEST(FrozenPositions, APositionThatJumpsAndIsThenHeldIsNoFlight) {
  auto fixes = straight(std::vector<double>(60, 0.0));
  // Standing, the place leaps 300 ft as satellites come and go, once there and back, once for good.
  for (std::size_t i = 20; i < 21; ++i) fixes[i].place = k_frame.to_geodetic({300.0, 0.0});
  for (std::size_t i = 40; i < fixes.size(); ++i) fixes[i].place = k_frame.to_geodetic({0.0, 300.0});
  EXPECT_TRUE(frozen_fixes(fixes).empty());
}

TEST(FrozenPositions, NoReferenceFlightHasAny) {
  for (const std::string& name : reference::k_flights) {
    EXPECT_TRUE(frozen_fixes(reference::read_gpx(reference::folder(name) + name + ".gpx").fixes).empty());
    EXPECT_TRUE(frozen_fixes(reference::read_csv(reference::folder(name) + name + ".csv").fixes).empty());
  }
}

TEST(FrozenPositions, NoFixesHaveNone) {
  EXPECT_TRUE(frozen_fixes({}).empty());
  EXPECT_TRUE(frozen_fixes(straight({})).empty());
}

drawn::Recorder any_recorder() {
  const double steps_s[] = {0.1, 0.2, 0.5, 1.0, 2.0, 4.0, 5.0};
  return {.step_s = steps_s[*rc::gen::inRange(0, 7)],
          .place_sd_ft = *rc::gen::inRange(0, 11) / 1.0,
          .height_sd_ft = *rc::gen::inRange(0, 11) / 1.0,
          .seed = *rc::gen::arbitrary<std::uint32_t>()};
}

RC_GTEST_PROP(FrozenPositions, WhoParksTaxiesFliesAndParksIsNeverRepaired, ()) {
  TrackLog log = from_parking_to_parking(any_recorder());
  RC_ASSERT(frozen_fixes(log.fixes).empty());
  hold_while_standing(log.fixes);
  RC_ASSERT(frozen_fixes(log.fixes).empty());
}

RC_GTEST_PROP(FrozenPositions, FrozenForThreeSecondsInThePatternIsAlwaysFoundAndNothingElse, ()) {
  drawn::Recorder recorder = any_recorder();
  recorder.step_s = std::min(recorder.step_s, 1.0);
  recorder.place_sd_ft = std::min(recorder.place_sd_ft, 3.0 * recorder.step_s);
  TrackLog log = from_parking_to_parking(recorder);
  // In flight from the climb to short final, at 65 to 85 kt.
  const auto at = [&](double seconds) { return static_cast<std::size_t>(seconds / recorder.step_s); };
  const std::size_t first = at(*rc::gen::inRange(110, 230));
  const std::size_t last = first + at(*rc::gen::inRange(3, 20));
  freeze(log.fixes, first, last);
  const auto frozen = frozen_fixes(log.fixes);
  RC_ASSERT(frozen.size() == 1u);
  RC_ASSERT(frozen[0].first == first);
  RC_ASSERT(frozen[0].last == last);
  // What is left shows nothing more to drop.
  log.fixes.erase(log.fixes.begin() + static_cast<std::ptrdiff_t>(first),
                  log.fixes.begin() + static_cast<std::ptrdiff_t>(last) + 1);
  RC_ASSERT(frozen_fixes(log.fixes).empty());
}

}  // namespace
}  // namespace glidewright

// Heights in the wrong unit are doubted, with the reason; those of flights as they are flown never.

#include "engine/track/height_unit.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include "tests/engine/track/drawn_flight.hpp"
#include "tests/engine/track/reference_flight.hpp"

namespace glidewright {
namespace {

using testing::HasSubstr;

RunwayFrame field_at(double elevation_ft) {
  return {{.airfield = "invented",
           .designator = "27",
           .threshold = {48.0, 11.0},
           .true_bearing = {270.0},
           .elevation = {elevation_ft},
           .length = {4000.0}},
          Feet{800.0}};
}

/// The log as it is when its heights were taken `factor` times as high as they were.
TrackLog with_heights(TrackLog log, double factor, HeightUnit heights_in) {
  for (Fix& fix : log.fixes)
    if (fix.altitude_ft) *fix.altitude_ft *= factor;
  log.heights_in = heights_in;
  return log;
}
TrackLog feet_read_as_metres(const TrackLog& log) {
  return with_heights(log, 1.0 / k_metres_per_foot, HeightUnit::metres);
}
TrackLog metres_read_as_feet(const TrackLog& log) {
  return with_heights(log, k_metres_per_foot, HeightUnit::feet);
}

std::optional<HeightUnitDoubt> doubt(const TrackLog& log, const RunwayFrame& frame,
                                     RunwayElevation elevation = RunwayElevation::known) {
  return doubt_height_unit(log, smooth(log, frame, Feet{4.1}), frame, elevation);
}

/// Powered pattern at a height, a final of 3 degrees or so, a full stop.
TrackLog powered_circuit(const RunwayFrame& frame, double height_ft) {
  using namespace drawn;
  const double turn = turn_s(90.0, 75.0, 20.0), sink = -height_ft / (2.0 * turn + 90.0);
  const std::vector<Leg> approach = {{60.0, 90.0},
                                     {20.0, 75.0},
                                     {turn, 75.0, sink, -20.0},
                                     {20.0, 75.0, sink, 0},
                                     {turn, 75.0, sink, -20.0},
                                     {70.0, 70.0, sink, 0}};
  Start start{0.0, 0.0, 0.0, 180.0, 90.0};
  start = aimed(frame, start, approach, 100.0);
  return fly(frame, start, approach + std::vector<Leg>{{3.0, 58.0}, {15.0, 10.0}, {30.0, 5.0}});
}

/// Gives the approach up before it is low: no landing shows how steep one would have been.
constexpr const char* k_goes_around = "F15";

TEST(HeightUnit, NoReferenceFlightIsDoubted) {
  for (const std::string& name : reference::k_flights) {
    const auto flight = reference::read_flight(name);
    for (auto log : {reference::read_gpx(reference::folder(name) + name + ".gpx"),
                     reference::read_csv(reference::folder(name) + name + ".csv")}) {
      SCOPED_TRACE(name + " " + log.format);
      for (const HeightUnit unit : {HeightUnit::feet, HeightUnit::metres}) {
        log.heights_in = unit;
        EXPECT_FALSE(doubt(log, flight.frame()));
        EXPECT_FALSE(doubt(log, flight.frame(), RunwayElevation::from_the_log));
      }
    }
  }
}

TEST(HeightUnit, EveryReferenceLandingFromFeetReadAsMetresIsDoubted) {
  for (const std::string& name : reference::k_flights) {
    const auto flight = reference::read_flight(name);
    const auto log = feet_read_as_metres(reference::read_gpx(reference::folder(name) + name + ".gpx"));
    SCOPED_TRACE(name);
    const auto found = doubt(log, flight.frame());
    if (name == k_goes_around) {
      EXPECT_FALSE(found);
      continue;
    }
    ASSERT_TRUE(found);
    EXPECT_EQ(found->rather, HeightUnit::feet);
  }
}

TEST(HeightUnit, EveryReferenceLandingFromMetresReadAsFeetIsDoubted) {
  for (const std::string& name : reference::k_flights) {
    const auto flight = reference::read_flight(name);
    const auto log = metres_read_as_feet(reference::read_gpx(reference::folder(name) + name + ".gpx"));
    SCOPED_TRACE(name);
    const auto found = doubt(log, flight.frame());
    if (name == k_goes_around) {
      EXPECT_FALSE(found);
      continue;
    }
    ASSERT_TRUE(found);
    EXPECT_EQ(found->rather, HeightUnit::metres);
  }
}

TEST(HeightUnit, SaysWhatDoesNotMakeSense) {
  const auto flight = reference::read_flight("F12");
  const auto log = reference::read_gpx(reference::folder("F12") + "F12.gpx");
  EXPECT_THAT(doubt(feet_read_as_metres(log), flight.frame(), RunwayElevation::from_the_log)->because,
              HasSubstr("the last minute before landing falls 1 ft in "));
  EXPECT_THAT(doubt(metres_read_as_feet(log), flight.frame(), RunwayElevation::from_the_log)->because,
              HasSubstr("the airplane is never higher than "));
  // At 2,400 ft the ground itself tells.
  const auto high = reference::read_flight("F03");
  EXPECT_THAT(
      doubt(feet_read_as_metres(reference::read_gpx(reference::folder("F03") + "F03.gpx")), high.frame())
          ->because,
      HasSubstr("where the runway lies at 2"));
}

// A path of 3 degrees read three times as steep is that of a glide; only the ground then tells, where it is
// known.
TEST(HeightUnit, APoweredCircuitIsDoubtedByTheGroundItRollsOn) {
  const auto frame = field_at(1500.0);
  const auto log = powered_circuit(frame, 1000.0);
  EXPECT_FALSE(doubt(log, frame));
  const auto found = doubt(feet_read_as_metres(log), frame);
  ASSERT_TRUE(found);
  EXPECT_THAT(found->because, HasSubstr("where the runway lies at 1500 ft"));
}

TEST(HeightUnit, HeightsAboveTheEllipsoidAreNoOtherUnit) {
  for (const double elevation_ft : {20.0, 150.0, 600.0, 5000.0}) {
    const auto frame = field_at(elevation_ft);
    for (const double geoid_ft : {-340.0, 280.0}) {
      TrackLog log = powered_circuit(frame, 1000.0);
      for (Fix& fix : log.fixes) *fix.altitude_ft += geoid_ft;
      for (const HeightUnit unit : {HeightUnit::feet, HeightUnit::metres}) {
        log.heights_in = unit;
        EXPECT_FALSE(doubt(log, frame)) << elevation_ft << " " << geoid_ft;
      }
    }
  }
}

TEST(HeightUnit, WithoutALandingNothingIsDoubted) {
  const auto frame = field_at(1500.0);
  const auto log = drawn::fly(frame, {0.0, 3000.0, 3000.0, 0.0, 80.0}, {{300.0, 80.0, -8.0}});
  EXPECT_FALSE(doubt(feet_read_as_metres(log), frame));
  EXPECT_FALSE(doubt(metres_read_as_feet(log), frame));
}

RC_GTEST_PROP(HeightUnit, NoGlideAsItIsFlownIsDoubted, ()) {
  const auto frame = field_at(*rc::gen::inRange(0, 6000));
  drawn::Circuit circuit;
  circuit.air_ratio = *rc::gen::inRange(60, 150) / 10.0;
  circuit.past_abeam_s = *rc::gen::inRange(8, 30);
  circuit.final_s = *rc::gen::inRange(12, 40);
  circuit.side = *rc::gen::inRange(0, 2) == 0 ? -1.0 : 1.0;
  const drawn::Wind wind{*rc::gen::inRange(-30, 3) * 1.0, *rc::gen::inRange(-12, 13) * 1.0};
  using drawn::operator+;
  const auto start = drawn::aimed(frame, circuit.start(), circuit.legs(), 100.0, wind);
  TrackLog log = drawn::fly(frame, start, circuit.legs() + circuit.rollout(), wind);
  for (const HeightUnit unit : {HeightUnit::feet, HeightUnit::metres}) {
    log.heights_in = unit;
    RC_ASSERT(!doubt(log, frame));
  }
}

}  // namespace
}  // namespace glidewright

#include <gtest/gtest.h>

#include <cmath>

#include "engine/track/attempts.hpp"
#include "tests/engine/track/reference_flight.hpp"

namespace glidewright {
namespace {

TEST(RunwayFromLog, LineOfTheRollout) {
  for (const std::string& name : reference::k_flights) {
    const auto flight = reference::read_flight(name);
    for (const TrackLog& log : {reference::read_gpx(reference::folder(name) + name + ".gpx"),
                                reference::read_csv(reference::folder(name) + name + ".csv")}) {
      const auto found = runway_from_log(log);
      ASSERT_TRUE(found) << name;
      // Two ends of a few hundred feet, each 5 ft off and the airplane some feet beside the line.
      EXPECT_NEAR(wrap_180_deg(found->true_bearing.value - flight.runway.true_bearing.value), 0.0, 2.0)
          << name;
      EXPECT_EQ(found->designator, flight.runway.designator) << name;
      EXPECT_NEAR(found->elevation.value, flight.runway.elevation.value, 45.0)
          << name;  // the device's own error
      const RunwayPoint threshold = flight.frame().to_runway(found->threshold);
      EXPECT_NEAR(threshold.cross_ft, 0.0, 60.0) << name;
      EXPECT_GE(found->position_sd.value, 60.0);
    }
  }
}

TEST(RunwayFromLog, NoneWhereNothingRolled) {
  EXPECT_FALSE(runway_from_log({}));
  const auto flight = reference::read_flight("F03");
  TrackLog log = reference::read_gpx(reference::folder("F03") + "F03.gpx");
  // From 80 s to 180 s the flight is in the pattern.
  std::erase_if(log.fixes, [&](const Fix& f) {
    return f.time_unix_s < flight.start_unix_s() + 80.0 || f.time_unix_s > flight.start_unix_s() + 180.0;
  });
  EXPECT_FALSE(runway_from_log(log));
}

}  // namespace
}  // namespace glidewright

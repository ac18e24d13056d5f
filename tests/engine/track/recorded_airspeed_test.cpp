#include "engine/track/recorded_airspeed.hpp"

#include <gtest/gtest.h>

namespace glidewright {
namespace {

PanelSample reading(double time_s, std::optional<double> airspeed_kt) {
  PanelSample sample;
  sample.time_unix_s = time_s;
  sample.indicated_airspeed_kt = airspeed_kt;
  return sample;
}

TEST(RecordedAirspeed, IsTheMeanOfWhatWasWritten) {
  const RecordedAirspeed recorded(
      {reading(0.0, 60.0), reading(1.0, 66.0), reading(2.0, 69.0), reading(9.0, 90.0)});
  EXPECT_EQ(recorded.mean_kt(0.0, 2.0), 65.0);
  EXPECT_EQ(recorded.mean_kt(1.0, 2.5), 67.5);
}

TEST(RecordedAirspeed, AGapIsNotBridged) {
  const RecordedAirspeed recorded({reading(0.0, 60.0), reading(1.0, std::nullopt), reading(5.0, 66.0)});
  EXPECT_FALSE(recorded.mean_kt(0.0, 5.0));
  EXPECT_TRUE(recorded.mean_kt(0.0, 2.0));
  EXPECT_FALSE(recorded.mean_kt(6.0, 9.0));
  EXPECT_FALSE(RecordedAirspeed().mean_kt(0.0, 1.0));
}

}  // namespace
}  // namespace glidewright

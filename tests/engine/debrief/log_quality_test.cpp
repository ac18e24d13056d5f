#include "engine/debrief/log_quality.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace glidewright {
namespace {

using testing::Contains;
using testing::HasSubstr;

/// One fix a second from 0 to 60, those from first to last left out.
TrackLog seconds_without(int first, int last) {
  TrackLog log;
  for (int second = 0; second <= 60; ++second) {
    if (second >= first && second <= last) continue;
    Fix fix;
    fix.time_unix_s = second;
    fix.place = {48.0, 11.0};
    fix.altitude_ft = 1500.0;
    log.fixes.push_back(fix);
  }
  return log;
}

SmoothTrack once_a_second() {
  SmoothTrack track;
  track.rate_hz = 1.0;
  track.height_zeroed_on_ground = true;
  return track;
}

TEST(LogQuality, AGapIsNoFreeze) {
  const auto quality = judge_log(seconds_without(20, 29), once_a_second(), {});
  EXPECT_EQ(quality.grade, "fair");
  EXPECT_THAT(quality.notes, testing::ElementsAre("the longest gap is 11 s"));
}

TEST(LogQuality, AFreezeIsSaidOnceAndNotAsAGap) {
  TrackLog log = seconds_without(20, 29);
  log.freezes.push_back({19.0, 29.0});
  const auto quality = judge_log(log, once_a_second(), {});
  EXPECT_EQ(quality.grade, "fair");
  EXPECT_THAT(quality.notes,
              testing::ElementsAre(
                  "the receiver's position froze while the airplane moved on: nothing is known of 11 s"));
}

TEST(LogQuality, AHeightInTheWrongUnitIsSaidWithWhatMendsIt) {
  const auto quality = judge_log(seconds_without(0, 0), once_a_second(),
                                 HeightUnitDoubt{HeightUnit::feet, "as they are, it rolls at 7874 ft"});
  EXPECT_EQ(quality.grade, "poor");
  EXPECT_THAT(
      quality.notes,
      testing::ElementsAre(
          "the heights make sense only as feet that were read as metres: as they are, it rolls at 7874 ft; "
          "nothing was changed, --height-unit ft does"));
  EXPECT_THAT(height_unit_words({HeightUnit::metres, "so"}), HasSubstr("metres that were read as feet"));
  EXPECT_THAT(height_unit_words({HeightUnit::metres, "so"}), HasSubstr("--height-unit m does"));
}

TEST(LogQuality, AShortFreezeIsNotedWithoutALowerGrade) {
  TrackLog log = seconds_without(20, 21);
  log.freezes = {{19.0, 21.0}};
  const auto quality = judge_log(log, once_a_second(), {});
  EXPECT_EQ(quality.grade, "good");
  EXPECT_THAT(quality.notes, Contains(HasSubstr("nothing is known of 3 s")));
}

TEST(LogQuality, SeveralFreezesAreCountedAndTheLogsEndIsOne) {
  TrackLog log = seconds_without(52, 60);
  log.fixes.erase(log.fixes.begin() + 20, log.fixes.begin() + 22);
  log.freezes = {{19.0, 21.0}, {51.0, 60.0}};
  const auto quality = judge_log(log, once_a_second(), {});
  EXPECT_EQ(quality.grade, "fair");
  EXPECT_THAT(quality.notes, Contains(HasSubstr("froze 2 times")));
  EXPECT_THAT(quality.notes, Contains(HasSubstr("up to 9 s at a time")));
}

}  // namespace
}  // namespace glidewright

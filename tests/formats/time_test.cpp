#include "formats/time.hpp"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <cmath>

namespace glidewright {
namespace {

// RFC 3339 sec. 5.8. 1e-6: a double holds seconds near 2026 to 0.25 microseconds.
TEST(Time, SamplesOfRfc3339) {
  EXPECT_NEAR(*unix_seconds("1985-04-12T23:20:50.52Z"), 482196050.52, 1e-6);
  EXPECT_EQ(*unix_seconds("1996-12-19T16:39:57-08:00"), 851042397.0);
  EXPECT_EQ(*unix_seconds("1996-12-20T00:39:57Z"), 851042397.0);  // the same moment, says the RFC
  EXPECT_EQ(*unix_seconds("1990-12-31T23:59:60Z"), *unix_seconds("1991-01-01T00:00:00Z"));  // leap second
  EXPECT_EQ(*unix_seconds("1990-12-31T15:59:60-08:00"), *unix_seconds("1990-12-31T23:59:60Z"));
  EXPECT_NEAR(*unix_seconds("1937-01-01T12:00:27.87+00:20"), *unix_seconds("1937-01-01T11:40:27.87Z"), 1e-6);
}

// Unix time of the GPS epoch: IS-GPS-200 gives 1980-01-06, 3,657 days after 1970-01-01.
TEST(Time, GpsEpoch) {
  EXPECT_EQ(*unix_seconds("1980-01-06T00:00:00Z"), 315964800.0);
}

// IS-GPS-200: the week counter of 1,024 weeks was full for the second time on 2019-04-07, week 2,048.
TEST(Time, SecondGpsWeekRollover) {
  constexpr double week_s = 7.0 * 86400.0;
  EXPECT_EQ((*unix_seconds("2019-04-07T00:00:00Z") - *unix_seconds("1980-01-06T00:00:00Z")) / week_s, 2048.0);
}

TEST(Time, FormsThatDevicesWrite) {
  const double expected = *unix_seconds("2026-05-14T20:02:55Z");
  for (const char* text : {" 2026-05-14T20:02:55Z ", "2026-05-14 20:02:55Z", "2026-05-14t20:02:55z",
                           "2026-05-14T22:02:55+02:00", "2026-05-14T22:02:55+0200", "2026-05-14T22:02:55+02",
                           "2026-05-14T20:02:55", "2026-05-14T20:02:55.000000000000000000000000Z"}) {
    ASSERT_TRUE(unix_seconds(text)) << text;
    EXPECT_EQ(*unix_seconds(text), expected) << text;
  }
  EXPECT_NEAR(*unix_seconds("2026-05-14T20:02:55,25Z"), expected + 0.25, 1e-6);
  EXPECT_FALSE(read_time("2026-05-14T20:02:55")->zone_given);
  EXPECT_TRUE(read_time("2026-05-14T20:02:55+02")->zone_given);
}

TEST(Time, RefusesWhatIsNoTime) {
  for (const char* text : {"",
                           "T",
                           "2026",
                           "2026-05-14",
                           "2026-05-14T",
                           "2026-05-14T20:02",
                           "2026-13-14T20:02:55Z",
                           "2026-00-14T20:02:55Z",
                           "2026-02-29T20:02:55Z",
                           "1900-02-29T00:00:00Z",
                           "2026-05-14T24:02:55Z",
                           "2026-05-14T20:60:55Z",
                           "2026-05-14T20:02:61Z",
                           "2026-05-14T20:02:55.Z",
                           "2026-05-14T20:02:55Zx",
                           "2026-05-14T20:02:55+",
                           "2026-05-14T20:02:55+2",
                           "2026-05-14T20:02:55+02:6",
                           "0000-01-01T00:00:00Z",
                           "2026-05-14X20:02:55Z",
                           "-026-05-14T20:02:55Z"}) {
    EXPECT_FALSE(unix_seconds(text)) << text;
  }
  EXPECT_TRUE(unix_seconds("2024-02-29T00:00:00Z"));
  EXPECT_TRUE(unix_seconds("2000-02-29T00:00:00Z"));
}

TEST(Time, DateAndTimeOfDayApart) {
  EXPECT_EQ(*read_date("1970-01-02"), 1);
  EXPECT_FALSE(read_date("1970-01-02T00"));
  EXPECT_EQ(*read_time_of_day("20:02:55"), 72175.0);
  EXPECT_FALSE(read_time_of_day("20:02"));
}

TEST(Time, WritesAndRounds) {
  EXPECT_EQ(iso8601_utc(851042397.0, 0), "1996-12-20T00:39:57Z");
  EXPECT_EQ(iso8601_utc(482196050.52, 2), "1985-04-12T23:20:50.52Z");
  EXPECT_EQ(iso8601_utc(0.9996, 3), "1970-01-01T00:00:01.000Z");
  EXPECT_EQ(iso8601_utc(-0.25, 2), "1969-12-31T23:59:59.75Z");
}

RC_GTEST_PROP(Time, ReadsBackWhatItWrote, ()) {
  const auto days = *rc::gen::inRange(-700000, 2900000);  // years 54 to 9900
  const auto millis = *rc::gen::inRange(0, 86400000);
  const double unix_s = days * 86400.0 + millis / 1000.0;
  const auto text = iso8601_utc(unix_s, 3);
  const auto back = unix_seconds(text);
  RC_ASSERT(back);
  RC_ASSERT(std::abs(*back - unix_s) < 2e-5);  // half a unit in the last place of 2.5e11 s
}

RC_GTEST_PROP(Time, AnyTextIsReadOrRefused, (const std::string& text)) {
  const auto time = read_time(text);
  const bool sound = !time || std::isfinite(time->unix_s);
  RC_ASSERT(sound);
}

TEST(DecimalYear, BeginsMiddlesAndLeapYears) {
  EXPECT_DOUBLE_EQ(decimal_year(0.0), 1970.0);
  EXPECT_DOUBLE_EQ(decimal_year(*unix_seconds("2026-01-01T00:00:00Z")), 2026.0);
  EXPECT_DOUBLE_EQ(decimal_year(*unix_seconds("2026-07-02T12:00:00Z")), 2026.5);
  EXPECT_DOUBLE_EQ(decimal_year(*unix_seconds("2028-07-02T00:00:00Z")), 2028.5) << "a leap year's middle";
  EXPECT_LT(decimal_year(*unix_seconds("2026-12-31T23:59:59Z")), 2027.0);
  EXPECT_DOUBLE_EQ(decimal_year(-1.0 * 365.0 * 86400.0), 1969.0);
}

}  // namespace
}  // namespace glidewright

#include "formats/igc.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "formats/time.hpp"

namespace glidewright {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

TrackLog log_of(const std::string& bytes) {
  const auto log = read_igc(bytes, "f.igc");
  EXPECT_TRUE(log) << (log ? "" : log.error().sentence);
  return log ? *log : TrackLog{};
}

std::string fix(const std::string& time, const std::string& after = "") {
  return "B" + time + "5407121N00249342WA0028000421" + after + "\r\n";
}

// FAI IGC flight-recorder specification, sample file: 2001-07-16T16:02:40Z, 54.118683, -2.822367, 280 m and
// 421 m.
TEST(Igc, TheSampleOfTheSpecification) {
  const auto log =
      log_of("AXXX001\r\nHFDTE160701\r\nB1602405407121N00249342WA002800042120509950\r\n" + fix("160245"));
  EXPECT_EQ(log.format, "igc");
  ASSERT_EQ(log.fixes.size(), 2u);
  const Fix& first = log.fixes.front();
  EXPECT_EQ(first.time_unix_s, 995299360.0);
  EXPECT_NEAR(first.place.latitude_deg, 54.118683, 1e-6);
  EXPECT_NEAR(first.place.longitude_deg, -2.822367, 1e-6);
  EXPECT_NEAR(*first.altitude_ft, 421.0 / 0.3048, 1e-9);
  EXPECT_NEAR(*log.panel.front().pressure_altitude_ft, 280.0 / 0.3048, 1e-9);
  EXPECT_TRUE(log.panel_shares_clock);
  EXPECT_THAT(log.notes, ElementsAre(HasSubstr("above the ellipsoid")));
}

TEST(Igc, BothWaysToWriteTheDate) {
  for (const char* date : {"HFDTE150717", "HFDTEDATE:150717,01", "HFDTEDATE:150717", "HODTE150717"}) {
    const auto log = log_of("AXXX001\n" + std::string(date) + "\n" + fix("101826") + fix("101827"));
    EXPECT_EQ(log.fixes.front().time_unix_s, *unix_seconds("2017-07-15T10:18:26Z")) << date;
  }
}

TEST(Igc, MidnightIsPassedOnce) {
  const auto log =
      log_of("AXXX001\nHFDTE311299\n" + fix("235958") + fix("235959") + fix("000001") + fix("000002"));
  ASSERT_EQ(log.fixes.size(), 4u);
  EXPECT_EQ(log.fixes[1].time_unix_s, *unix_seconds("1999-12-31T23:59:59Z"));
  EXPECT_EQ(log.fixes[2].time_unix_s, *unix_seconds("2000-01-01T00:00:01Z"));
  EXPECT_EQ(log.fixes[3].time_unix_s, *unix_seconds("2000-01-01T00:00:02Z"));
}

TEST(Igc, ExtensionsMakePlaceAndTimeFiner) {
  // Two more digits of each angle, one of the second: bytes 36-37, 38-39, 40; IAS in km/h 41-43.
  const auto log = log_of("AXXX001\nI043637LAD3839LOD4040TDS4143IAS\nHFDTE160701\n" +
                          fix("160240", "50255100") + fix("160241", "00000000"));
  const Fix& first = log.fixes.front();
  EXPECT_NEAR(first.place.latitude_deg, 54.0 + 7.1215 / 60.0, 1e-9);
  EXPECT_NEAR(first.place.longitude_deg, -(2.0 + 49.34225 / 60.0), 1e-9);
  EXPECT_NEAR(first.time_unix_s, 995299360.5, 1e-9);
  EXPECT_NEAR(*log.panel.front().indicated_airspeed_kt, 100.0 / 1.852, 1e-9);
  EXPECT_FALSE(log.panel.back().indicated_airspeed_kt);
}

TEST(Igc, NoSatelliteAltitudeNoBarometerNoDate) {
  const std::string flat =
      "AXXX001\nHFDTE160701\nB1602405407121N00249342WV0028000000\n"
      "B1602415407121N00249342WV0028100000\n";
  const auto pressure = log_of(flat);
  EXPECT_NEAR(*pressure.fixes.back().altitude_ft, 281.0 / 0.3048, 1e-9);
  EXPECT_THAT(pressure.notes, ElementsAre(HasSubstr("pressure altitude stands in its place")));
  const auto no_barometer = log_of(
      "AXXX001\nHFDTE160701\nB1602405407121N00249342WA0000000421\n"
      "B1602415407121N00249342WA0000000422\n");
  EXPECT_THAT(no_barometer.panel, IsEmpty());
  const auto no_date = log_of("AXXX001\n" + fix("000010") + fix("000011"));
  EXPECT_EQ(no_date.fixes.front().time_unix_s, 10.0);
  EXPECT_THAT(no_date.notes, testing::Contains(HasSubstr("no date")));
}

TEST(Igc, SaysWhatItDropped) {
  const auto log =
      log_of("AXXX001\nHFDTE160701\n" + fix("160240") + "B16024\nB1602995407121N00249342WA0028000421\n" +
             "B1602425467121N00249342XA0028000421\n" + fix("160243") + fix("160243"));
  EXPECT_EQ(log.fixes.size(), 2u);
  EXPECT_THAT(log.notes, testing::Contains("3 records that cannot be read dropped (first at line 4)"));
  EXPECT_THAT(log.notes, testing::Contains(HasSubstr("time repeated")));
}

TEST(Igc, WithoutFixesIsAnError) {
  const auto log = read_igc("AXXX001\nHFDTE160701\n", "f.igc");
  ASSERT_FALSE(log);
  EXPECT_EQ(log.error().sentence, "f.igc: IGC without fixes; expected B records");
}

TEST(Igc, IsKnownByItsContent) {
  EXPECT_TRUE(looks_like_igc("AXXX001\nHFDTE160701\n"));
  EXPECT_TRUE(looks_like_igc("AXXX001\r\n" + fix("160240")));
  EXPECT_FALSE(looks_like_igc("Airfield,B,C\n1,2,3\n"));
  EXPECT_FALSE(looks_like_igc(""));
}

}  // namespace
}  // namespace glidewright

#include "formats/nmea.hpp"

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "formats/time.hpp"

namespace glidewright {
namespace {

using testing::Contains;
using testing::ElementsAre;
using testing::HasSubstr;

TrackLog log_of(const std::string& bytes) {
  const auto log = read_nmea(bytes, "f.nmea");
  EXPECT_TRUE(log) << (log ? "" : log.error().sentence);
  return log ? *log : TrackLog{};
}

std::string sentence(const std::string& body) {
  unsigned sum = 0;
  for (const char c : body) sum ^= static_cast<unsigned char>(c);
  return fmt::format("${}*{:02X}\r\n", body, sum);
}

std::string gga(const std::string& time, const std::string& talker = "GP") {
  return sentence(talker + "GGA," + time + ",4807.038,N,01131.000,E,1,08,0.9,545.4,M,46.9,M,,");
}
std::string rmc(const std::string& time, const std::string& date = "230394") {
  return sentence("GPRMC," + time + ",A,4807.038,N,01131.000,E,022.4,084.4," + date + ",003.1,W");
}

// NMEA 0183 samples as widely published: 48.1173, 11.516667, 545.4 m, 22.4 kt, 084.4 true, 1994-03-23
// 12:35:19.
TEST(Nmea, ThePublishedSamples) {
  const auto log = log_of(
      "$GPGGA,123519,4807.038,N,01131.000,E,1,08,0.9,545.4,M,46.9,M,,*47\n"
      "$GPRMC,123519,A,4807.038,N,01131.000,E,022.4,084.4,230394,003.1,W*6A\n" +
      gga("123520"));
  EXPECT_EQ(log.format, "nmea");
  ASSERT_EQ(log.fixes.size(), 2u);
  const Fix& fix = log.fixes.front();
  EXPECT_EQ(fix.time_unix_s, *unix_seconds("1994-03-23T12:35:19Z"));
  EXPECT_NEAR(fix.place.latitude_deg, 48.1173, 1e-6);
  EXPECT_NEAR(fix.place.longitude_deg, 11.516667, 1e-6);
  EXPECT_NEAR(*fix.altitude_ft, 545.4 / 0.3048, 1e-9);
  EXPECT_EQ(fix.groundspeed_kt, 22.4);
  EXPECT_EQ(fix.course_true_deg, 84.4);
  EXPECT_TRUE(log.notes.empty());
}

TEST(Nmea, OneChangedCharacterIsNoticed) {
  const std::string good = "$GPGGA,123519,4807.038,N,01131.000,E,1,08,0.9,545.4,M,46.9,M,,*47\n";
  for (const std::size_t at : {8u, 16u, 20u, 45u}) {
    std::string bad = good;
    bad[at] = bad[at] == '3' ? '4' : '3';
    const auto log = log_of(bad + rmc("123520") + rmc("123521"));
    EXPECT_EQ(log.fixes.size(), 2u) << at;
    EXPECT_THAT(log.notes, Contains(HasSubstr("checksum does not agree"))) << at;
  }
}

TEST(Nmea, AnyTalkerAndSentencesWithoutAChecksum) {
  const auto log = log_of(gga("123519", "GN") +
                          "$GLGGA,123520,4807.038,N,01131.000,E,1,08,0.9,545.4,M,46.9,M,,\n" + rmc("123521"));
  EXPECT_EQ(log.fixes.size(), 3u);
}

TEST(Nmea, TheDateReachesBackAndPastMidnight) {
  const auto log = log_of(gga("235958.00") + gga("235959.00") + rmc("235959.50", "311225") +
                          gga("000000.50") + sentence("GPZDA,000001.00,01,01,2026,00,00") + gga("000001.00"));
  ASSERT_EQ(log.fixes.size(), 5u);
  EXPECT_EQ(log.fixes.front().time_unix_s, *unix_seconds("2025-12-31T23:59:58Z"));
  EXPECT_EQ(log.fixes[3].time_unix_s, *unix_seconds("2026-01-01T00:00:00.5Z"));
  EXPECT_EQ(log.fixes[4].time_unix_s, *unix_seconds("2026-01-01T00:00:01Z"));
}

TEST(Nmea, WithoutADateItSaysSo) {
  const auto log = log_of(gga("123519") + gga("123520"));
  EXPECT_EQ(log.fixes.front().time_unix_s, 45319.0);
  EXPECT_THAT(log.notes, ElementsAre(HasSubstr("no date")));
}

TEST(Nmea, SentencesOfTwoMomentsMayBeShuffled) {
  const auto log = log_of(gga("123519") + gga("123520") + rmc("123519") + rmc("123520"));
  ASSERT_EQ(log.fixes.size(), 2u);
  EXPECT_EQ(log.fixes[0].groundspeed_kt, 22.4);
  EXPECT_TRUE(log.fixes[0].altitude_ft);
}

TEST(Nmea, SpeedFromVtgAndNoFixYet) {
  const auto log = log_of(sentence("GPGGA,123518,,,,,0,00,,,M,,M,,") + gga("123519") +
                          sentence("GPVTG,054.7,T,034.4,M,005.5,N,010.2,K") + rmc("123520"));
  ASSERT_EQ(log.fixes.size(), 2u);
  EXPECT_EQ(log.fixes[0].groundspeed_kt, 5.5);
  EXPECT_EQ(log.fixes[0].course_true_deg, 54.7);
  EXPECT_THAT(log.notes, Contains(HasSubstr("no position yet")));
}

TEST(Nmea, WithoutPositionsIsAnError) {
  const auto log = read_nmea(sentence("GPGSV,1,1,00"), "f.nmea");
  ASSERT_FALSE(log);
  EXPECT_EQ(log.error().sentence, "f.nmea: NMEA without positions; expected GGA or RMC");
}

TEST(Nmea, IsKnownByItsContent) {
  EXPECT_TRUE(looks_like_nmea("some header\n12:00:01 $GNRMC,1,2\n"));
  EXPECT_FALSE(looks_like_nmea("price,$12,00\n"));
}

TEST(TellsAPlace, OnlyAWholeSentenceWithOne) {
  const std::string gga = "$GPGGA,190305.00,3612.86511,N,14238.03391,W,1,10,0.9,187.3,M,-12.4,M,,*56\r\n";
  EXPECT_TRUE(tells_a_place(gga));
  EXPECT_TRUE(tells_a_place("$GPRMC,190305.00,A,3612.86511,N,14238.03391,W,0.1,325.5,250426,,,A*4C"));
  EXPECT_FALSE(tells_a_place("$GPRMC,190305.00,V,3612.86511,N,14238.03391,W,0.1,325.5,250426,,,A")) << "void";
  EXPECT_FALSE(tells_a_place("$GPGGA,190305.00,,,,,0,00,,,M,,M,,")) << "no place yet";
  EXPECT_FALSE(tells_a_place(std::string(gga).replace(10, 1, "9"))) << "its checksum disagrees";
  EXPECT_FALSE(tells_a_place("$GPVTG,54.7,T,34.4,M,5.5,N,10.2,K"));
  EXPECT_FALSE(tells_a_place("$"));
  EXPECT_FALSE(tells_a_place(""));
}

}  // namespace
}  // namespace glidewright

#include "formats/metar.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "formats/time.hpp"

namespace glidewright {
namespace {

using testing::HasSubstr;

Metar report(const std::string& text) {
  const auto metar = read_metar(text);
  EXPECT_TRUE(metar) << (metar ? "" : metar.error().sentence);
  return metar ? *metar : Metar{};
}
std::string error_of(const std::string& text) {
  const auto metar = read_metar(text);
  return metar ? "read" : metar.error().sentence;
}

// Sample of the US NWS ASOS User's Guide / FMH-1.
TEST(Metar, TheUsSample) {
  const auto metar = report(
      "METAR KABC 121755Z AUTO 21016G24KT 180V240 1SM R11/P6000FT -RA BR BKN015 OVC025 06/04 A2990 RMK A02 "
      "PK WND 20032/25 WSHFT 1715 VIS 3/4V1 1/2 SLP125 P0003 T00640036 10066 21012 58033");
  EXPECT_EQ(metar.station, "KABC");
  EXPECT_EQ(metar.day, 12);
  EXPECT_EQ(metar.hour, 17);
  EXPECT_EQ(metar.minute, 55);
  EXPECT_EQ(metar.wind->at_10m.from_true.value, 210.0);
  EXPECT_EQ(metar.wind->at_10m.speed.value, 16.0);
  EXPECT_EQ(metar.wind->gust.value, 8.0);
  EXPECT_EQ(metar.varies_from_true_deg, 180.0);
  EXPECT_EQ(metar.varies_to_true_deg, 240.0);
  EXPECT_EQ(metar.ceiling_ft, 1500.0);
  EXPECT_NEAR(*metar.temperature_c, 6.4, 1e-9);
  EXPECT_NEAR(*metar.dewpoint_c, 3.6, 1e-9);
  EXPECT_NEAR(*metar.altimeter_hpa, 29.90 * 33.86389, 1e-3);
}

// Sample of ICAO Annex 3 / WMO-No. 306 FM-15: 4 m/s is 7.78 kt.
TEST(Metar, TheSampleInMetresPerSecond) {
  const auto metar = report(
      "METAR YUDO 221630Z 24004MPS 0600 R12/1000U DZ FG SCT010 OVC020 17/16 Q1018 BECMG TL1700 0800 FG=");
  EXPECT_NEAR(metar.wind->at_10m.speed.value, 7.78, 0.01);
  EXPECT_EQ(metar.temperature_c, 17.0);
  EXPECT_EQ(metar.altimeter_hpa, 1018.0);
  EXPECT_EQ(metar.ceiling_ft, 2000.0);
}

TEST(Metar, CalmVariableBelowFreezingLowAndHighPressure) {
  EXPECT_EQ(report("EDXX 010000Z 00000KT M02/M16 Q0998").wind->at_10m.speed.value, 0.0);
  EXPECT_EQ(report("EDXX 010000Z 00000KT M02/M16 Q0998").temperature_c, -2.0);
  EXPECT_EQ(report("EDXX 010000Z 00000KT M02/M16 Q0998").dewpoint_c, -16.0);
  EXPECT_EQ(report("EDXX 010000Z 00000KT M02/M16 Q0998").altimeter_hpa, 998.0);
  const auto variable = report("KABC 010000Z VRB03KT A3012");
  EXPECT_FALSE(variable.wind);
  EXPECT_EQ(variable.variable_kt, 3.0);
  EXPECT_NEAR(*variable.altimeter_hpa / 33.86389, 30.12, 1e-4);
}

TEST(Metar, MissingGroupsAreEmptyAndATrendIsNotTheWeather) {
  const auto metar = report("LFXX 311200Z /////KT //// ///// Q//// TEMPO 24030G45KT");
  EXPECT_FALSE(metar.wind || metar.variable_kt || metar.temperature_c || metar.altimeter_hpa ||
               metar.ceiling_ft);
  const auto half = report("LFXX 311200Z 18005KT CAVOK 12/ Q1020 NOSIG");
  EXPECT_EQ(half.temperature_c, 12.0);
  EXPECT_FALSE(half.dewpoint_c);
}

TEST(Metar, SaysWhatIsWrong) {
  EXPECT_THAT(error_of(""), HasSubstr("has no station"));
  EXPECT_THAT(error_of("KABC"), HasSubstr("has no time"));
  EXPECT_THAT(error_of("240/12"), HasSubstr("begins with '240/12'"));
  EXPECT_THAT(error_of("KABC 321755Z"), HasSubstr("has the time '321755Z'"));
  EXPECT_THAT(error_of("KABC 121755Z 40012KT"), HasSubstr("has the wind '40012KT'"));
  EXPECT_THAT(error_of("KABC 121755Z 24012KT Q0000"), HasSubstr("has the pressure 'Q0000'"));
}

TEST(Metars, TheNearestInTimeAlsoAcrossTheEndOfAMonth) {
  const auto reports =
      read_metars("KABC 302355Z 21010KT A2990\nKABC 010055Z 22011KT A2991=KABC 010155Z 23012KT A2992");
  ASSERT_TRUE(reports);
  ASSERT_EQ(reports->size(), 3u);
  const double just_after_midnight = *unix_seconds("2026-05-01T00:20:00Z");
  EXPECT_EQ(nearest_report(*reports, just_after_midnight).wind->at_10m.speed.value, 10.0);
  EXPECT_NEAR(age_s(reports->front(), just_after_midnight), 25.0 * 60.0, 1e-6);
  EXPECT_EQ(nearest_report(*reports, *unix_seconds("2026-05-01T01:40:00Z")).wind->at_10m.speed.value, 12.0);
  EXPECT_NEAR(age_s(reports->at(1), *unix_seconds("2026-04-30T23:55:00Z")), -3600.0, 1e-6);
  EXPECT_FALSE(read_metars(" \n= "));
}

}  // namespace
}  // namespace glidewright

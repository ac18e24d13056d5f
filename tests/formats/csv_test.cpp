#include "formats/csv.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include "formats/csv_columns.hpp"
#include "formats/time.hpp"

namespace glidewright {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;

std::string error_of(const std::string& bytes) {
  const auto log = read_csv(bytes, "f.csv");
  return log ? "read" : log.error().sentence;
}

TEST(Csv, PositionsWithUnitsInTheHeader) {
  const auto log = read_csv(
      "time_utc,lat_deg,lon_deg,alt_gnss_ft,groundspeed_kt,track_deg\n"
      "2026-05-14T20:02:55.200Z,36.2144002,-142.6341742,636.8,64.5,320.0\n"
      "2026-05-14T20:02:55.400Z,36.2143937,-142.6341792,,,360\n",
      "f.csv");
  ASSERT_TRUE(log);
  ASSERT_EQ(log->fixes.size(), 2u);
  EXPECT_EQ(log->fixes[0].time_unix_s, *unix_seconds("2026-05-14T20:02:55.2Z"));
  EXPECT_EQ(log->fixes[0].place.latitude_deg, 36.2144002);
  EXPECT_EQ(log->fixes[0].place.longitude_deg, -142.6341742);
  EXPECT_EQ(*log->fixes[0].altitude_ft, 636.8);
  EXPECT_EQ(*log->fixes[0].groundspeed_kt, 64.5);
  EXPECT_EQ(*log->fixes[0].course_true_deg, 320.0);
  EXPECT_FALSE(log->fixes[1].altitude_ft);
  EXPECT_EQ(*log->fixes[1].course_true_deg, 0.0);
  EXPECT_TRUE(log->panel.empty());
  EXPECT_TRUE(log->notes.empty());
}

TEST(Csv, SemicolonsDecimalCommasQuotesAndLineEnds) {
  const auto log = read_csv(
      "\xEF\xBB\xBF# written by a logger\r\n"
      "\"Remark\";\"Time (UTC)\";Latitude;Longitude;Altitude (m);\"Speed [km/h]\"\r\n"
      "\"a;b \"\"c\"\"\";2026-05-14 20:02:55Z;48,5;\"11,25\";100;185,2\r\n"
      ";2026-05-14 20:02:56Z;48,6;11,25;200;92,6\r\n",
      "f.csv");
  ASSERT_TRUE(log) << log.error().sentence;
  ASSERT_EQ(log->fixes.size(), 2u);
  EXPECT_EQ(log->fixes[0].place.latitude_deg, 48.5);
  EXPECT_EQ(log->fixes[0].place.longitude_deg, 11.25);
  EXPECT_NEAR(*log->fixes[0].altitude_ft, 328.084, 5e-4);   // 100 / 0.3048, six digits
  EXPECT_NEAR(*log->fixes[0].groundspeed_kt, 100.0, 1e-9);  // 1 kt is 1.852 km/h
}

TEST(Csv, PanelColumnsWithoutPositions) {
  const auto log = read_csv(
      "time_utc\tias_kt\tbaro_alt_ft\tpitch_deg\troll_deg\theading_true_deg\trpm\toat_c\tflap_deg\n"
      "2026-05-14T20:02:55Z\t63.6\t596\t3.3\t-0.5\t87.6\t750\t-17.8\t10\n",
      "f.csv");
  ASSERT_TRUE(log) << log.error().sentence;
  ASSERT_EQ(log->panel.size(), 1u);
  EXPECT_TRUE(log->fixes.empty());
  const auto& sample = log->panel[0];
  EXPECT_EQ(*sample.indicated_airspeed_kt, 63.6);
  EXPECT_EQ(*sample.pressure_altitude_ft, 596.0);
  EXPECT_EQ(*sample.pitch_deg, 3.3);
  EXPECT_EQ(*sample.roll_deg, -0.5);
  EXPECT_EQ(*sample.heading_true_deg, 87.6);
  EXPECT_EQ(*sample.powerplant_rpm, 750.0);
  EXPECT_EQ(*sample.outside_air_temperature_c, -17.8);
  EXPECT_EQ(*sample.flap_deg, 10.0);
}

TEST(Csv, BothPositionsAndPanel) {
  const auto log = read_csv(
      "date,time,lat,lon,ias_kt\n"
      "2026-05-14,20:02:55,48,11,60\n"
      "2026-05-14,20:02:55.5,,,61\n"
      "2026-05-14,20:02:56,48.1,11,\n",
      "f.csv");
  ASSERT_TRUE(log) << log.error().sentence;
  EXPECT_EQ(log->fixes.size(), 2u);
  EXPECT_EQ(log->panel.size(), 2u);
  EXPECT_EQ(log->fixes[0].time_unix_s, *unix_seconds("2026-05-14T20:02:55Z"));
}

TEST(Csv, UnixSecondsAndMilliseconds) {
  for (const char* rows :
       {"1778788975,48,11\n1778788976,48,11\n", "1778788975000,48,11\n1778788976000,48,11\n"}) {
    const auto log = read_csv(std::string("timestamp,lat,lon\n") + rows, "f.csv");
    ASSERT_TRUE(log) << log.error().sentence;
    EXPECT_EQ(log->fixes[0].time_unix_s, 1778788975.0);
  }
}

TEST(Csv, WhatWasAssumedAndRepairedIsTold) {
  const auto log = read_csv(
      "time,lat,lon,altitude,gs\n"
      "2026-05-14T20:02:55,48,11,100,x\n"
      "2026-05-14T20:02:56,48\n"
      "2026-05-14T20:02:55,48,11,100,1\n"
      "noon,48,11,100,1\n"
      "2026-05-14T20:02:57,48,11,100,1\n",
      "f.csv");
  ASSERT_TRUE(log) << log.error().sentence;
  EXPECT_EQ(log->fixes.size(), 2u);
  EXPECT_THAT(log->notes,
              ElementsAre("line 4: time repeated, fix dropped", "line 5: time cannot be read, fix dropped",
                          "line 2: value cannot be read as a number, left out",
                          "line 3: row with too few columns dropped", "times name no zone; taken as UTC",
                          "column 'altitude' names no unit; taken as feet",
                          "column 'gs' names no unit; taken as knots"));
}

TEST(Csv, ErrorsNameLineAndRange) {
  const std::string header = "time_utc,lat_deg,lon_deg\n";
  EXPECT_EQ(error_of(header + "2026-05-14T20:02:55Z,98.2,11\n"),
            "f.csv:2: column 2 'lat_deg': latitude 98.2; expected -90 to 90");
  EXPECT_EQ(error_of(header + "2026-05-14T20:02:55Z,nan,11\n"),
            "f.csv:2: column 2 'lat_deg': latitude nan; expected -90 to 90");
  EXPECT_EQ(error_of(header + "2026-05-14T20:02:55Z,48,\n"),
            "f.csv:2: column 3 'lon_deg': no longitude; expected -180 to 180");
  EXPECT_EQ(error_of(header), "f.csv: a header row and no data");
  EXPECT_THAT(error_of(header + "noon,48,11\n"),
              HasSubstr("f.csv:2: column 1 'time_utc': time cannot be read"));
  EXPECT_EQ(error_of(header + "2026-05-14T20:02:55Z,,\n"), "f.csv: no row has a value");
  EXPECT_THAT(error_of("name,value\na,1\n"), HasSubstr("f.csv: no header row"));
  EXPECT_THAT(error_of("lat,lon\n48,11\n"), HasSubstr("f.csv: no header row"));
  EXPECT_EQ(error_of(header + "2026-05-14T20:02:55Z,48,11\n2026-05-14T20:02:54Z,48,11\n"
                              "2026-05-14T20:02:53Z,48,11\n2026-05-14T20:02:52Z,48,11\n"),
            "f.csv: time runs backwards at 3 of 4 fixes; expected rising times");
}

TEST(Csv, MillionColumnsAreRefusedInTheHeaderAndPassedOverInARow) {
  const std::string commas(1000000, ',');
  EXPECT_EQ(error_of(commas + "\n"), "f.csv:1: more than 1000 columns; expected a log with a header row");
  const auto log = read_csv(
      "time_utc,lat,lon\n2026-05-14T20:02:55Z,48,11" + commas + "\n2026-05-14T20:02:56Z,48,11\n", "f.csv");
  ASSERT_TRUE(log);
  EXPECT_EQ(log->fixes.size(), 2u);
}

TEST(CsvColumns, MeaningAndUnit) {
  const auto meaning = [](const char* header) {
    const auto column = csv_column(header);
    return column ? std::pair(column->field, column->scale) : std::pair(CsvField::count, 0.0);
  };
  using Meaning = std::pair<CsvField, double>;
  EXPECT_EQ(meaning("LAT_DEG"), Meaning(CsvField::latitude, 1.0));
  EXPECT_EQ(meaning("GPS Altitude (ft)"), Meaning(CsvField::altitude, 1.0));
  EXPECT_EQ(meaning("UTC Time"), Meaning(CsvField::time, 1.0));
  EXPECT_EQ(meaning("groundspeed (m/s)").first, CsvField::groundspeed);
  EXPECT_NEAR(meaning("groundspeed (m/s)").second, 1.94384, 5e-6);  // 3600 / 1852, six digits
  EXPECT_NEAR(meaning("ias_mph").second, 0.868976, 5e-7);           // 1609.344 / 1852, six digits
  EXPECT_EQ(meaning("alt_kt").first, CsvField::count);              // a unit of the wrong kind
  EXPECT_EQ(meaning("heading_magnetic").first, CsvField::count);
  EXPECT_EQ(meaning("").first, CsvField::count);
}

RC_GTEST_PROP(Csv, AnyBytesAreReadOrRefused, ()) {
  const auto pieces = *rc::gen::container<std::vector<std::string>>(rc::gen::element<std::string>(
      "time_utc", "lat", "lon", "ias_kt", "2026-05-14T20:02:55Z", "2026-05-14T20:02:56Z", "48", "1e999", "-",
      ",", ";", "\t", "\"", "\n", "\r", "#", "\xFF"));
  std::string bytes = *rc::gen::element<std::string>("", "time_utc,lat,lon,ias_kt\n", "time_utc;lat;lon\n");
  for (const auto& piece : pieces) bytes += piece;
  const auto log = read_csv(bytes, "f.csv");
  const bool sound = log || log.error().sentence.starts_with("f.csv:");
  RC_ASSERT(sound);
}

}  // namespace
}  // namespace glidewright

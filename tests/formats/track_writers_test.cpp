// What is written reads back as it was, to the rounding that the header promises.

#include "formats/track_writers.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "formats/time.hpp"
#include "formats/track_log.hpp"
#include "tests/formats/test_files.hpp"

namespace glidewright {
namespace {

using testing::HasSubstr;

// Half of the last digit written, and a little for the conversion to metres and back.
constexpr double k_place_deg = 0.51e-8;
constexpr double k_time_s = 0.51e-3;
constexpr double k_csv_ft = 0.51e-3;
constexpr double k_gpx_ft = 0.51e-3 / 0.3048;
constexpr double k_gpx_kt = 0.51e-3 * 3600.0 / 1852.0;
constexpr double k_csv_kt = 0.51e-3;
constexpr double k_deg = 0.51e-2;

void expect_near(const std::optional<double>& a, const std::optional<double>& b, double tolerance) {
  ASSERT_EQ(a.has_value(), b.has_value());
  if (a) {
    ASSERT_NEAR(*a, *b, tolerance);
  }
}

void expect_same_fixes(const TrackLog& written, const TrackLog& original, double ft, double kt) {
  ASSERT_EQ(written.fixes.size(), original.fixes.size());
  for (std::size_t i = 0; i < original.fixes.size(); ++i) {
    const Fix &a = written.fixes[i], &b = original.fixes[i];
    ASSERT_NEAR(a.time_unix_s, b.time_unix_s, k_time_s);
    ASSERT_NEAR(a.place.latitude_deg, b.place.latitude_deg, k_place_deg);
    ASSERT_NEAR(a.place.longitude_deg, b.place.longitude_deg, k_place_deg);
    expect_near(a.altitude_ft, b.altitude_ft, ft);
    expect_near(a.groundspeed_kt, b.groundspeed_kt, kt);
    expect_near(a.course_true_deg, b.course_true_deg, k_deg);
    ASSERT_EQ(a.segment, b.segment);
  }
}

/// Three fixes in two segments, values left out here and there, and a row of the panel between fixes.
TrackLog small_log() {
  TrackLog log;
  const double start = *unix_seconds("2026-05-14T20:02:55Z");
  log.fixes = {{start, {48.123456789, -11.5}, 1000.0, 65.5, 359.99, 0},
               {start + 0.2, {-0.0000000001, 179.99999999}, std::nullopt, std::nullopt, std::nullopt, 0},
               {start + 2.0, {48.2, 11.5}, -12.3456, 0.0, 0.0, 1}};
  PanelSample sample;
  sample.time_unix_s = start + 1.0;
  sample.indicated_airspeed_kt = 61.25;
  sample.roll_deg = -3.5;
  log.panel = {sample};
  log.panel_shares_clock = true;
  return log;
}

TEST(TrackWriters, EveryFormatReadComesBackFromGpxAndCsv) {
  for (const char* file : {"F03/F03.gpx", "F03/F03.igc", "F08/F08.csv", "F11/F11.kml", "F12/F12.nmea"}) {
    SCOPED_TRACE(file);
    const auto original = read_track_log(test_file(std::string("flights/") + file), "f");
    ASSERT_TRUE(original);
    const auto gpx = read_track_log(write_gpx(*original), "g");
    ASSERT_TRUE(gpx) << gpx.error().sentence;
    EXPECT_TRUE(gpx->notes.empty());
    expect_same_fixes(*gpx, *original, k_gpx_ft, k_gpx_kt);
    const auto csv = read_track_log(write_csv(*original), "c");
    ASSERT_TRUE(csv) << csv.error().sentence;
    EXPECT_TRUE(csv->notes.empty());
    expect_same_fixes(*csv, *original, k_csv_ft, k_csv_kt);
    EXPECT_EQ(csv->panel.size(), original->panel.size());
  }
}

TEST(TrackWriters, SegmentsAndMissingValuesStay) {
  const auto log = small_log();
  const auto gpx = read_track_log(write_gpx(log), "g");
  ASSERT_TRUE(gpx) << gpx.error().sentence;
  expect_same_fixes(*gpx, log, k_gpx_ft, k_gpx_kt);
  const auto csv = read_track_log(write_csv(log), "c");
  ASSERT_TRUE(csv) << csv.error().sentence;
  expect_same_fixes(*csv, log, k_csv_ft, k_csv_kt);
}

TEST(TrackWriters, CsvKeepsThePanel) {
  const auto text = write_csv(small_log());
  EXPECT_EQ(text,
            "time_utc,lat_deg,lon_deg,segment,alt_gnss_ft,groundspeed_kt,track_deg,ias_kt,roll_deg\n"
            "2026-05-14T20:02:55.000Z,48.12345679,-11.5,0,1000,65.5,359.99,,\n"
            "2026-05-14T20:02:55.200Z,0,179.99999999,0,,,,,\n"
            "2026-05-14T20:02:56.000Z,,,,,,,61.25,-3.5\n"
            "2026-05-14T20:02:57.000Z,48.2,11.5,1,-12.346,0,0,,\n");
  const auto log = read_track_log(text, "c");
  ASSERT_TRUE(log);
  ASSERT_EQ(log->panel.size(), 1U);
  EXPECT_EQ(log->panel[0].indicated_airspeed_kt, 61.25);
  EXPECT_EQ(log->panel[0].roll_deg, -3.5);
  EXPECT_TRUE(log->panel_shares_clock);
}

TEST(TrackWriters, GeoJsonHasAFeatureForEachSegment) {
  const auto object = nlohmann::json::parse(write_geojson(small_log()));
  EXPECT_EQ(object.at("type"), "FeatureCollection");
  ASSERT_EQ(object.at("features").size(), 2U);
  const auto& line = object.at("features")[0];
  EXPECT_EQ(line.at("geometry").at("type"), "LineString");
  // Longitude first (RFC 7946, 3.1.1); 1,000 ft are 304.8 m.
  EXPECT_EQ(line.at("geometry").at("coordinates")[0], nlohmann::json({-11.5, 48.12345679, 304.8}));
  EXPECT_EQ(line.at("geometry").at("coordinates")[1], nlohmann::json({179.99999999, 0}));
  EXPECT_EQ(line.at("properties").at("time_utc")[1], "2026-05-14T20:02:55.200Z");
  EXPECT_EQ(line.at("properties").at("groundspeed_kt"), nlohmann::json({65.5, nullptr}));
  // A line needs two positions (RFC 7946, 3.1.4).
  EXPECT_EQ(object.at("features")[1].at("geometry").at("type"), "Point");
  EXPECT_EQ(object.at("features")[1].at("geometry").at("coordinates"), nlohmann::json({11.5, 48.2, -3.763}));
}

TEST(TrackWriters, GeoJsonHasEveryFixOfAFlight) {
  const auto log = read_track_log(test_file("flights/F22/F22.gpx"), "f");
  const auto object = nlohmann::json::parse(write_geojson(*log));
  std::size_t positions = 0;
  for (const auto& feature : object.at("features")) {
    positions += feature.at("geometry").at("coordinates").size();
    EXPECT_EQ(feature.at("properties").at("time_utc").size(),
              feature.at("geometry").at("coordinates").size());
  }
  EXPECT_EQ(positions, log->fixes.size());
}

}  // namespace
}  // namespace glidewright

#include "formats/track_log.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "engine/track/geodesy.hpp"
#include "formats/sha256.hpp"
#include "formats/time.hpp"
#include "formats/track_writers.hpp"
#include "tests/formats/test_files.hpp"

namespace glidewright {
namespace {

using testing::HasSubstr;

std::string error_of(std::string_view bytes) {
  const auto log = read_track_log(bytes, "f");
  return log ? "read" : log.error().sentence;
}

std::size_t count_of(const std::string& bytes, const std::string& token) {
  std::size_t count = 0;
  for (auto at = bytes.find(token); at != std::string::npos; at = bytes.find(token, at + 1)) ++count;
  return count;
}

/// Flights below tests/data/flights whose files are named in their truth.json.
const std::vector<std::string> k_flights = {"F02", "F03", "F08", "F11", "F12",
                                            "F15", "F18", "F20", "F22", "F24"};

nlohmann::json truth_of(const std::string& flight) {
  return nlohmann::json::parse(test_file("flights/" + flight + "/truth.json"));
}

TEST(TrackLog, SaysWhatAFileThatIsNoLogLooksLike) {
  EXPECT_EQ(error_of(""), "f: the file is empty; expected a track log: GPX, KML, IGC, NMEA or CSV");
  EXPECT_EQ(error_of(" \n"), "f: the file is empty; expected a track log: GPX, KML, IGC, NMEA or CSV");
  EXPECT_EQ(error_of("%PDF-1.7\n"), "f: is a PDF; expected a track log: GPX, KML, IGC, NMEA or CSV");
  EXPECT_EQ(error_of("\n<!DOCTYPE HTML><p>"),
            "f: is an HTML page; expected a track log: GPX, KML, IGC, NMEA or CSV");
  EXPECT_EQ(error_of(std::string_view("a\0b", 3)),
            "f: is binary; expected a track log: GPX, KML, IGC, NMEA or CSV");
  EXPECT_THAT(error_of("PK\x03\x04zip"), HasSubstr("zip archive is damaged"));
  EXPECT_THAT(error_of("\xFF\xFE<"), HasSubstr("UTF-16"));
  EXPECT_THAT(error_of("{\"a\": 1}"), HasSubstr("looks like JSON"));
  EXPECT_THAT(error_of("AXXX001\nHFDTE160701\n"), HasSubstr("IGC without fixes"));
  EXPECT_THAT(error_of("Dear all,\nsee you on Sunday.\n"), HasSubstr("no header row"));
  EXPECT_THAT(error_of("time_utc,ias_kt\n2026-05-14T20:02:55Z,60\n"), HasSubstr("without positions"));
}

TEST(TrackLog, ContentDecidesNotTheName) {
  EXPECT_EQ(read_track_log(test_file("flights/F03/F03.gpx"), "x.csv")->format, "gpx");
  EXPECT_EQ(read_track_log(test_file("flights/F03/F03.csv"), "x.gpx")->format, "csv");
}

TEST(TrackLog, EveryFormatOfAFlightIsKnownByItsContent) {
  for (const auto& [file, format] : {std::pair{"F03/F03.igc", "igc"}, std::pair{"F11/F11.kml", "kml"},
                                     std::pair{"F12/F12.nmea", "nmea"}, std::pair{"F22/F22.kml", "kml"}}) {
    const auto log = read_track_log(test_file(std::string("flights/") + file), "log");
    ASSERT_TRUE(log) << file << ": " << log.error().sentence;
    EXPECT_EQ(log->format, format) << file;
    // The same flight as GPX, once a second: within the receivers' wander and the formats' steps.
    const std::string stem = std::string(file).substr(0, std::string(file).find('.'));
    const auto gpx = read_track_log(test_file("flights/" + stem + ".gpx"), "gpx");
    EXPECT_EQ(log->fixes.size(), gpx->fixes.size()) << file;
    EXPECT_NEAR(log->fixes.front().time_unix_s, gpx->fixes.front().time_unix_s, 1.0) << file;
    EXPECT_LT(geodesic_between(log->fixes.front().place, gpx->fixes.front().place).distance.value, 20.0)
        << file;
  }
}

TEST(TrackLog, EveryReferenceFlightReadsWhole) {
  for (const auto& flight : k_flights) {
    const auto gpx_bytes = test_file("flights/" + flight + "/" + flight + ".gpx");
    const auto csv_bytes = test_file("flights/" + flight + "/" + flight + ".csv");
    const auto gpx = read_track_log(gpx_bytes, flight);
    const auto csv = read_track_log(csv_bytes, flight);
    ASSERT_TRUE(gpx && csv) << flight;
    EXPECT_EQ(gpx->fixes.size(), count_of(gpx_bytes, "<trkpt")) << flight;
    EXPECT_EQ(csv->fixes.size(), count_of(csv_bytes, "T")) << flight;
    EXPECT_TRUE(gpx->notes.empty()) << flight;
    EXPECT_TRUE(csv->notes.empty()) << flight;
    EXPECT_EQ(gpx->sha256, sha256_hex(gpx_bytes));
    const auto start = unix_seconds(truth_of(flight)["log_t0_utc"].get<std::string>());
    EXPECT_EQ(csv->fixes.front().time_unix_s, *start) << flight;
  }
}

TEST(TrackLog, DegradedFlights) {
  const auto gap = read_track_log(test_file("flights/F03/F03_gap7.gpx"), "F03_gap7");
  ASSERT_TRUE(gap);
  EXPECT_EQ(gap->fixes.size(), 230u);  // 7 of 237 fixes are missing
  double longest = 0.0;
  for (std::size_t i = 1; i < gap->fixes.size(); ++i) {
    longest = std::max(longest, gap->fixes[i].time_unix_s - gap->fixes[i - 1].time_unix_s);
  }
  EXPECT_EQ(longest, 8.0);
  const auto sparse = read_track_log(test_file("flights/F08/F08_5s.gpx"), "F08_5s");
  ASSERT_TRUE(sparse);
  EXPECT_EQ(sparse->fixes.size(), 59u);
}

TEST(TrackLog, PanelOfTheReferenceFlights) {
  for (const char* flight : {"F02", "F08", "F18", "F20"}) {
    const auto bytes = test_file(std::string("flights/") + flight + "/" + flight + "_avionics.csv");
    const auto panel = read_panel(bytes, flight);
    ASSERT_TRUE(panel) << flight;
    EXPECT_EQ(panel->size(), count_of(bytes, "T")) << flight;
    for (const auto& sample : *panel) {
      ASSERT_TRUE(sample.indicated_airspeed_kt && sample.pressure_altitude_ft && sample.pitch_deg &&
                  sample.roll_deg && sample.heading_true_deg && sample.powerplant_rpm &&
                  sample.outside_air_temperature_c && sample.flap_deg);
    }
  }
}

// tests/data/flights/README.md: each horizontal axis has a slow part of 1.5 m and a white part of 0.3 m in
// either device, so a difference of two devices has sqrt(2) x 1.53 m = 2.2 m an axis; the vertical differs by
// the two constant biases and sqrt(2) x 2.5 m. Flights whose GPX clock is out of phase are compared at the
// phase.
TEST(TrackLog, GpxAndCsvOfOneFlightAgreeWithinDeviceNoise) {
  for (const auto& flight : k_flights) {
    const auto gpx = read_track_log(test_file("flights/" + flight + "/" + flight + ".gpx"), flight);
    const auto csv = read_track_log(test_file("flights/" + flight + "/" + flight + ".csv"), flight);
    const auto device = truth_of(flight)["device"];
    const double phase_s = device["gpx_clock_phase_s"].get<double>();
    const double bias_ft =
        (device["gpx_vertical_bias_m"].get<double>() - device["csv_vertical_bias_m"].get<double>()) / 0.3048;
    double sum_squares_m2 = 0.0, sum_height_ft = 0.0;
    int compared = 0;
    for (const auto& fix : gpx->fixes) {
      const double time = fix.time_unix_s + phase_s;
      const auto after = std::lower_bound(csv->fixes.begin(), csv->fixes.end(), time,
                                          [](const Fix& f, double t) { return f.time_unix_s < t; });
      if (after == csv->fixes.end() || after == csv->fixes.begin()) continue;
      const auto& b = *after;
      const auto& a = *(after - 1);
      const double share = (time - a.time_unix_s) / (b.time_unix_s - a.time_unix_s);
      const Geodetic place{a.place.latitude_deg + share * (b.place.latitude_deg - a.place.latitude_deg),
                           a.place.longitude_deg + share * (b.place.longitude_deg - a.place.longitude_deg)};
      const double distance_m = geodesic_between(fix.place, place).distance.value;
      sum_squares_m2 += distance_m * distance_m;
      sum_height_ft += *fix.altitude_ft - (*a.altitude_ft + share * (*b.altitude_ft - *a.altitude_ft));
      ++compared;
    }
    ASSERT_GT(compared, 200) << flight;
    // Two axes: 3.1 m rms expected; a slow part of 60 s leaves few independent values, so half as much again.
    EXPECT_LT(std::sqrt(sum_squares_m2 / compared), 4.7) << flight;
    // The mean of a slow part of 120 s over 250 s is worth about one of its 2.5 m in each device: 3 sd of
    // both.
    EXPECT_NEAR(sum_height_ft / compared, bias_ft, 3 * 2.5 * std::sqrt(2.0) / 0.3048) << flight;
  }
}

/// Once a second along a meridian at 61 kt; from the tenth fix on the place stands still for four fixes.
TrackLog frozen_for_four_seconds() {
  TrackLog log;
  double latitude_deg = 48.0;
  for (int second = 0; second < 30; ++second) {
    if (second < 10 || second > 13) latitude_deg = 48.0 + 0.00028 * second;
    Fix fix;
    fix.time_unix_s = 1778788975.0 + second;
    fix.place = {latitude_deg, 11.0};
    fix.altitude_ft = 2500.0;
    log.fixes.push_back(fix);
  }
  return log;
}

TEST(TrackLog, RepeatsOfAFrozenReceiverAreDroppedAndToldByTheirLine) {
  const TrackLog written = frozen_for_four_seconds();
  for (const auto& bytes : {write_gpx(written), write_csv(written)}) {
    const auto log = read_track_log(bytes, "f");
    ASSERT_TRUE(log) << log.error().sentence;
    EXPECT_EQ(log->fixes.size(), 26u);
    ASSERT_EQ(log->freezes.size(), 1u);
    EXPECT_EQ(log->freezes[0].from_unix_s, written.fixes[9].time_unix_s);
    EXPECT_EQ(log->freezes[0].to_unix_s, written.fixes[13].time_unix_s);
    ASSERT_EQ(log->notes.size(), 1u);
    EXPECT_THAT(
        log->notes[0],
        HasSubstr("4 fixes that repeat the last position while the airplane moved on dropped (first at"));
  }
}

TEST(TrackLog, HeightsInTheUnitThatIsSaid) {
  // Whatever the format: the written number is metres, or feet where somebody says so.
  for (const char* file : {"F03/F03.gpx", "F03/F03.igc", "F11/F11.kml", "F12/F12.nmea"}) {
    const auto bytes = test_file(std::string("flights/") + file);
    const auto metres = read_track_log(bytes, file),
               feet = read_track_log(bytes, file, nullptr, HeightUnit::feet);
    ASSERT_TRUE(metres && feet) << file;
    EXPECT_EQ(metres->heights_in, HeightUnit::metres) << file;
    EXPECT_EQ(feet->heights_in, HeightUnit::feet) << file;
    EXPECT_NEAR(*feet->fixes[9].altitude_ft, *metres->fixes[9].altitude_ft * 0.3048, 1e-9) << file;
    EXPECT_THAT(feet->notes.back(), HasSubstr("taken as feet, as is said, and not as metres")) << file;
    if (!metres->panel.empty()) {
      EXPECT_NEAR(*feet->panel[9].pressure_altitude_ft, *metres->panel[9].pressure_altitude_ft * 0.3048,
                  1e-9);
    }
    const auto same = read_track_log(bytes, file, nullptr, HeightUnit::metres);
    EXPECT_EQ(*same->fixes[9].altitude_ft, *metres->fixes[9].altitude_ft) << file;
    EXPECT_THAT(same->notes.back(), HasSubstr("read as metres anyway")) << file;
  }
  const auto csv = read_track_log(test_file("flights/F03/F03.csv"), "F03.csv");
  const auto metres =
      read_track_log(test_file("flights/F03/F03.csv"), "F03.csv", nullptr, HeightUnit::metres);
  EXPECT_EQ(csv->heights_in, HeightUnit::feet);
  EXPECT_EQ(metres->heights_in, HeightUnit::metres);
  EXPECT_NEAR(*metres->fixes[9].altitude_ft * 0.3048, *csv->fixes[9].altitude_ft, 1e-9);
}

/// Who mixed up one column has mixed up both; another unit beside it is another device's.
TEST(TrackLog, PressureAltitudesWrittenInTheSameUnitGoAlong) {
  const auto table = [](const std::string& altitude, const std::string& pressure) {
    return "time_utc,lat_deg,lon_deg," + altitude + "," + pressure +
           "\n2026-05-14T20:00:00Z,48.0,16.0,300,310\n2026-05-14T20:00:01Z,48.001,16.0,301,311\n";
  };
  const auto both = read_track_log(table("alt_ft", "baro_alt_ft"), "x.csv", nullptr, HeightUnit::metres);
  ASSERT_TRUE(both);
  EXPECT_NEAR(*both->fixes[0].altitude_ft, 300.0 / 0.3048, 1e-9);
  EXPECT_NEAR(*both->panel[0].pressure_altitude_ft, 310.0 / 0.3048, 1e-9);
  const auto one = read_track_log(table("alt_m", "baro_alt_ft"), "x.csv", nullptr, HeightUnit::feet);
  ASSERT_TRUE(one);
  EXPECT_NEAR(*one->fixes[0].altitude_ft, 300.0, 1e-9);
  EXPECT_NEAR(*one->panel[0].pressure_altitude_ft, 310.0, 1e-9);
  const std::string panel_alone =
      "time_utc,ias_kt,baro_alt_m\n2026-05-14T20:00:00Z,60,310\n2026-05-14T20:00:01Z,60,311\n";
  const auto panel = read_panel(panel_alone, "x.csv", nullptr, HeightUnit::feet);
  ASSERT_TRUE(panel);
  EXPECT_NEAR(*panel->front().pressure_altitude_ft, 310.0, 1e-9);
}

TEST(TrackLog, AStandingAirplaneKeepsItsRepeatedPositions) {
  TrackLog written = frozen_for_four_seconds();
  for (auto& fix : written.fixes) fix.place.latitude_deg = 48.0;
  const auto log = read_track_log(write_gpx(written), "f");
  ASSERT_TRUE(log);
  EXPECT_EQ(log->fixes.size(), 30u);
  EXPECT_TRUE(log->notes.empty());
}

}  // namespace
}  // namespace glidewright

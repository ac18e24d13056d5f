#pragma once
// Reads the simulated reference flights of tests/data/flights, for tests only: just the columns they have.

#include <chrono>
#include <cstdio>
#include <fstream>
#include <nlohmann/json.hpp>
#include <sstream>
#include <stdexcept>
#include <string>
#include <vector>

#include "engine/track/log.hpp"
#include "engine/track/runway.hpp"
#include "tests/where.hpp"

namespace glidewright::reference {

inline std::string read_text(const std::string& path) {
  std::ifstream file(path);
  if (!file) throw std::runtime_error("cannot read " + path);
  std::stringstream text;
  text << file.rdbuf();
  return text.str();
}

/// "2026-05-14T20:02:55.500Z" as seconds since 1970.
inline double unix_seconds(const std::string& iso) {
  int year = 0, month = 0, day = 0, hour = 0, minute = 0;
  double second = 0.0;
  if (std::sscanf(iso.c_str(), "%d-%d-%dT%d:%d:%lf", &year, &month, &day, &hour, &minute, &second) != 6) {
    throw std::runtime_error("no time: " + iso);
  }
  const auto days = std::chrono::sys_days(std::chrono::year(year) / month / day).time_since_epoch().count();
  return static_cast<double>(days) * 86400.0 + hour * 3600.0 + minute * 60.0 + second;
}

inline std::vector<std::string> cells(const std::string& line) {
  std::vector<std::string> out;
  std::stringstream in(line);
  for (std::string cell; std::getline(in, cell, ',');) out.push_back(cell);
  return out;
}

inline TrackLog read_csv(const std::string& path) {
  TrackLog log;
  log.format = "csv";
  std::stringstream in(read_text(path));
  std::string line;
  std::getline(in, line);
  while (std::getline(in, line)) {
    const auto c = cells(line);
    log.fixes.push_back({.time_unix_s = unix_seconds(c.at(0)),
                         .place = {std::stod(c.at(1)), std::stod(c.at(2))},
                         .altitude_ft = std::stod(c.at(3)),
                         .groundspeed_kt = std::stod(c.at(4)),
                         .course_true_deg = std::stod(c.at(5))});
  }
  return log;
}

inline TrackLog read_gpx(const std::string& path) {
  TrackLog log;
  log.format = "gpx";
  const std::string text = read_text(path);
  const auto number_after = [&text](std::size_t from, const std::string& mark) {
    return std::stod(text.substr(text.find(mark, from) + mark.size(), 24));
  };
  std::uint32_t segment = 0;
  std::size_t segment_end = text.find("</trkseg>");
  for (std::size_t at = text.find("<trkpt"); at != std::string::npos; at = text.find("<trkpt", at + 1)) {
    while (segment_end != std::string::npos && at > segment_end) {
      ++segment;
      segment_end = text.find("</trkseg>", segment_end + 1);
    }
    log.fixes.push_back({.time_unix_s = unix_seconds(text.substr(text.find("<time>", at) + 6, 24)),
                         .place = {number_after(at, "lat=\""), number_after(at, "lon=\"")},
                         .altitude_ft = number_after(at, "<ele>") / k_metres_per_foot,
                         .groundspeed_kt = {},
                         .course_true_deg = {},
                         .segment = segment});
  }
  return log;
}

inline std::vector<PanelSample> read_panel(const std::string& path) {
  std::vector<PanelSample> panel;
  std::stringstream in(read_text(path));
  std::string line;
  std::getline(in, line);
  while (std::getline(in, line)) {
    const auto c = cells(line);
    panel.push_back({.time_unix_s = unix_seconds(c.at(0)),
                     .indicated_airspeed_kt = std::stod(c.at(1)),
                     .pressure_altitude_ft = std::stod(c.at(2)),
                     .pitch_deg = std::stod(c.at(3)),
                     .roll_deg = std::stod(c.at(4)),
                     .heading_true_deg = std::stod(c.at(5)),
                     .powerplant_rpm = std::stod(c.at(6)),
                     .flap_deg = std::stod(c.at(8)),
                     .outside_air_temperature_c = std::stod(c.at(7))});
  }
  return panel;
}

inline std::string folder(const std::string& flight) {
  return where::test_data() + "/flights/" + flight + "/";
}

struct Flight {
  std::string name;
  nlohmann::json truth;
  Runway runway;
  Feet touchdown_point;

  RunwayFrame frame() const { return {runway, touchdown_point}; }
  double start_unix_s() const { return unix_seconds(truth["log_t0_utc"]); }
};

inline Flight read_flight(const std::string& name) {
  Flight flight{name, nlohmann::json::parse(read_text(folder(name) + "truth.json")), {}, {}};
  const auto& r = flight.truth["runway"];
  flight.runway = {.airfield = r["name"],
                   .designator = r["ident"],
                   .threshold = {r["threshold_lat_deg"], r["threshold_lon_deg"]},
                   .true_bearing = {r["true_heading_deg"]},
                   .elevation = {r["elevation_ft"]},
                   .length = {r["length_ft"]},
                   .width = {r["width_ft"]}};
  flight.touchdown_point = {flight.truth["touchdown_point"]["past_threshold_ft"]};
  return flight;
}

inline const std::vector<std::string> k_flights = {"F02", "F03", "F08", "F11", "F12",
                                                   "F15", "F18", "F20", "F22", "F24"};

/// One device's log of a flight.
struct Recording {
  std::string flight;
  std::string file;
};

inline std::vector<Recording> recordings() {
  std::vector<Recording> out;
  for (const std::string& name : k_flights) {
    out.push_back({name, name + ".gpx"});
    out.push_back({name, name + ".csv"});
  }
  out.push_back({"F03", "F03_gap7.gpx"});
  out.push_back({"F08", "F08_5s.gpx"});
  return out;
}

inline TrackLog read(const Recording& recording) {
  const std::string path = folder(recording.flight) + recording.file;
  return path.ends_with(".csv") ? read_csv(path) : read_gpx(path);
}

}  // namespace glidewright::reference

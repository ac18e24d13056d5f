#pragma once
// The reference flights of tests/data/flights as logs with known touchdowns, read in the plainest way.

#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <sstream>
#include <string>
#include <vector>

#include "engine/debrief/touchdown.hpp"

namespace glidewright::testing {

inline double unix_time(const std::string& iso) {
  int year = 0;
  unsigned month = 0, day = 0;
  int hour = 0, minute = 0;
  double second = 0.0;
  std::sscanf(iso.c_str(), "%d-%u-%uT%d:%d:%lfZ", &year, &month, &day, &hour, &minute, &second);
  const auto days = std::chrono::sys_days{std::chrono::year{year} / month / day}.time_since_epoch().count();
  return static_cast<double>(days) * 86400.0 + hour * 3600.0 + minute * 60.0 + second;
}

inline std::string whole_file(const std::filesystem::path& path) {
  std::ifstream in(path, std::ios::binary);
  std::ostringstream out;
  out << in.rdbuf();
  return out.str();
}

inline TrackLog plain_gpx(const std::filesystem::path& path) {
  TrackLog log;
  const std::string text = whole_file(path);
  for (std::size_t at = text.find("<trkpt"); at != std::string::npos; at = text.find("<trkpt", at + 1)) {
    Fix fix;
    double metres = 0.0;
    char stamp[40] = {};
    if (std::sscanf(text.c_str() + at, "<trkpt lat=\"%lf\" lon=\"%lf\"><ele>%lf</ele><time>%39[^<]",
                    &fix.place.latitude_deg, &fix.place.longitude_deg, &metres, stamp) != 4)
      continue;
    fix.altitude_ft = metres / k_metres_per_foot;
    fix.time_unix_s = unix_time(stamp);
    log.fixes.push_back(fix);
  }
  return log;
}

inline TrackLog plain_csv(const std::filesystem::path& path) {
  TrackLog log;
  std::istringstream lines(whole_file(path));
  std::string line;
  while (std::getline(lines, line)) {
    Fix fix;
    double altitude_ft = 0.0, groundspeed_kt = 0.0, course_deg = 0.0;
    char stamp[40] = {};
    if (std::sscanf(line.c_str(), "%39[^,],%lf,%lf,%lf,%lf,%lf", stamp, &fix.place.latitude_deg,
                    &fix.place.longitude_deg, &altitude_ft, &groundspeed_kt, &course_deg) != 6)
      continue;
    fix.time_unix_s = unix_time(stamp);
    fix.altitude_ft = altitude_ft;
    fix.groundspeed_kt = groundspeed_kt;
    fix.course_true_deg = course_deg;
    log.fixes.push_back(fix);
  }
  return log;
}

/// Columns of the reference flights' panel files.
inline std::vector<PanelSample> plain_panel(const std::filesystem::path& path) {
  std::vector<PanelSample> panel;
  std::istringstream lines(whole_file(path));
  std::string line;
  while (std::getline(lines, line)) {
    PanelSample sample;
    double airspeed = 0.0, altitude = 0.0, pitch = 0.0;
    char stamp[40] = {};
    if (std::sscanf(line.c_str(), "%39[^,],%lf,%lf,%lf", stamp, &airspeed, &altitude, &pitch) != 4) continue;
    sample.time_unix_s = unix_time(stamp);
    sample.indicated_airspeed_kt = airspeed;
    sample.pressure_altitude_ft = altitude;
    sample.pitch_deg = pitch;
    panel.push_back(sample);
  }
  return panel;
}

struct ReferenceLanding {
  std::string name;  ///< "F20.2"
  Runway runway;
  Feet point_past_threshold;
  double time_unix_s = 0.0;
  double along_ft = 0.0;
  double headwind_kt = 0.0;
  double density_ratio = 1.0;
};

struct ReferenceFlight {
  std::string name;
  std::filesystem::path folder;
  std::vector<ReferenceLanding> landings;

  TrackLog gpx() const { return plain_gpx(folder / (name + ".gpx")); }
  TrackLog csv() const { return plain_csv(folder / (name + ".csv")); }
  bool has_panel() const { return std::filesystem::exists(panel_file()); }
  TrackLog gpx_with_panel() const {
    TrackLog log = gpx();
    log.panel = plain_panel(panel_file());
    return log;
  }
  std::filesystem::path panel_file() const { return folder / (name + "_avionics.csv"); }
};

inline std::vector<ReferenceFlight> reference_flights(const std::filesystem::path& data) {
  std::vector<ReferenceFlight> flights;
  for (const auto& entry : std::filesystem::directory_iterator(data)) {
    if (!entry.is_directory() || !std::filesystem::exists(entry.path() / "truth.json")) continue;
    const auto truth = nlohmann::json::parse(whole_file(entry.path() / "truth.json"));
    ReferenceFlight flight{truth["flight"], entry.path(), {}};
    const auto& r = truth["runway"];
    ReferenceLanding landing;
    landing.runway.threshold = {r["threshold_lat_deg"], r["threshold_lon_deg"]};
    landing.runway.true_bearing = {r["true_heading_deg"]};
    landing.runway.elevation = {r["elevation_ft"]};
    landing.runway.length = {r["length_ft"]};
    landing.point_past_threshold = {truth["touchdown_point"]["past_threshold_ft"]};
    landing.headwind_kt = truth["wind"]["at_10m"]["headwind_kt"];
    // US Standard Atmosphere 1976, troposphere, temperature deviation left out (within 4 %).
    landing.density_ratio = std::pow(1.0 - 6.8756e-6 * landing.runway.elevation.value, 4.2559);
    for (const auto& attempt : truth["attempts"]) {
      if (!attempt["touchdown"].is_object()) continue;
      landing.name = flight.name + "." + std::to_string(attempt["attempt"].get<int>());
      landing.time_unix_s = unix_time(attempt["touchdown"]["utc"]);
      landing.along_ft = attempt["touchdown"]["along_ft"];
      flight.landings.push_back(landing);
    }
    flights.push_back(flight);
  }
  std::sort(flights.begin(), flights.end(), [](const auto& a, const auto& b) { return a.name < b.name; });
  return flights;
}

/// Heights as recorded above the runway, unsmoothed and with their bias: what a caller has at the least.
inline SmoothTrack plain_track(const TrackLog& log, const RunwayFrame& frame) {
  SmoothTrack track;
  track.rate_hz = log.fixes.size() < 2 ? 0.0 : 1.0 / (log.fixes[1].time_unix_s - log.fixes[0].time_unix_s);
  for (const Fix& fix : log.fixes) {
    const RunwayPoint point = frame.to_runway(fix.place);
    TrackState state;
    state.time_unix_s = fix.time_unix_s;
    state.along_ft = point.along_ft;
    state.cross_ft = point.cross_ft;
    state.height_ft = fix.altitude_ft.value_or(frame.point_elevation_ft()) - frame.point_elevation_ft() - 4.0;
    track.states.push_back(state);
  }
  return track;
}

}  // namespace glidewright::testing

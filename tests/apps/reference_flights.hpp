#pragma once
// The reference flights of tests/data/flights as the command line takes them: log, runway, point, reported
// wind.

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "tests/formats/test_files.hpp"
#include "tests/where.hpp"

namespace glidewright {

/// Of the folder of one flight, as its truth.json has them.
struct FlightSetting {
  std::vector<std::string> runway_and_point;
  std::vector<std::string> wind;
};

inline FlightSetting flight_setting(const std::string& flight) {
  const auto truth = nlohmann::json::parse(test_file("flights/" + flight + "/truth.json"));
  const auto& runway = truth.at("runway");
  const auto& wind = truth.at("wind").at("at_10m");
  FlightSetting setting;
  setting.runway_and_point = {
      "--runway",
      fmt::format("{:.8f},{:.8f},{},{},{}", runway.at("threshold_lat_deg").get<double>(),
                  runway.at("threshold_lon_deg").get<double>(), runway.at("true_heading_deg").get<double>(),
                  runway.at("elevation_ft").get<double>(), runway.at("length_ft").get<double>()),
      "--touchdown-point-ft",
      fmt::format("{}", truth.at("touchdown_point").at("past_threshold_ft").get<double>())};
  setting.wind = {"--wind", fmt::format("{:.0f}/{:.0f}", wind.at("from_deg_true").get<double>(),
                                        wind.at("speed_kt").get<double>())};
  return setting;
}

/// Path of a flight's file from the root of the clone: "F08", "F08_5s.gpx".
inline std::string flight_file(const std::string& flight, const std::string& file) {
  return "tests/data/flights/" + flight + "/" + file;
}

/// The names of all track logs, such as "F08_5s.gpx"; a name begins with its flight. Avionics files are none.
inline std::vector<std::string> reference_logs() {
  std::vector<std::string> logs;
  for (const auto& entry :
       std::filesystem::recursive_directory_iterator(std::filesystem::path(where::test_data()) / "flights")) {
    const auto name = entry.path().filename().string();
    const bool in_a_flight = name.front() == 'F' && entry.is_regular_file();
    const bool is_log = entry.path().extension() == ".gpx" || entry.path().extension() == ".csv";
    if (in_a_flight && is_log && name.find("avionics") == std::string::npos) logs.push_back(name);
  }
  std::sort(logs.begin(), logs.end());
  return logs;
}

inline std::string flight_of(const std::string& log) {
  return log.substr(0, 3);
}

}  // namespace glidewright

#pragma once
// Wind, temperature and altimeter setting: from options, or from a weather report.

#include <optional>
#include <string>
#include <vector>

#include "engine/air/wind.hpp"
#include "formats/result.hpp"

namespace glidewright {

/// As typed; what was not given is empty.
struct WeatherOptions {
  std::string wind;   ///< 240/12
  std::string metar;  ///< one report or several; the nearest in time counts
  std::optional<double> temperature_c;
  std::optional<double> altimeter_hpa;
};

struct Weather {
  std::optional<WindProfile> wind;
  std::optional<double> temperature_c;
  std::optional<double> altimeter_hpa;
  std::vector<std::string> said;  ///< what was taken from a report, and what about it is doubtful
};

/// Options stand above the report. when: the moment it is for; none: the last report counts.
Result<Weather> read_weather(const WeatherOptions& options, std::optional<double> when_unix_s);

}  // namespace glidewright

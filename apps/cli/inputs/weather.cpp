#include "apps/cli/inputs/weather.hpp"

#include <fmt/format.h>

#include <cmath>

#include "formats/metar.hpp"
#include "formats/wind_text.hpp"
#include "formats/words/numbers.hpp"

namespace glidewright {
namespace {

constexpr double k_old_report_s = 3.0 * 3600.0;

std::string wind_of_report(const Metar& report) {
  if (report.wind) return wind_words(*report.wind);
  if (report.variable_kt) return fmt::format("variable {:.0f} kt, taken as calm", *report.variable_kt);
  return "no wind in it";
}

void take_report(const Metar& report, std::optional<double> when_unix_s, Weather& weather) {
  std::string said = fmt::format("weather of {} at {:02}{:02}{:02}Z: {}", report.station, report.day,
                                 report.hour, report.minute, wind_of_report(report));
  if (report.temperature_c) said += fmt::format(", {} °C", decimal(*report.temperature_c, 0));
  if (report.altimeter_hpa) said += fmt::format(", {:.0f} hPa", *report.altimeter_hpa);
  weather.said.push_back(said);
  weather.wind = report.wind;
  if (report.variable_kt) weather.wind = WindProfile{};
  weather.temperature_c = report.temperature_c;
  weather.altimeter_hpa = report.altimeter_hpa;
  if (when_unix_s && std::abs(age_s(report, *when_unix_s)) > k_old_report_s)
    weather.said.push_back(fmt::format("that report is {:.0f} h away from the flight",
                                       std::abs(age_s(report, *when_unix_s)) / 3600.0));
  if (report.varies_from_true_deg)
    weather.said.push_back(fmt::format("the wind varies between {:03.0f}° and {:03.0f}°",
                                       *report.varies_from_true_deg, *report.varies_to_true_deg));
}

}  // namespace

Result<Weather> read_weather(const WeatherOptions& options, std::optional<double> when_unix_s) {
  Weather weather;
  if (!options.metar.empty()) {
    const auto reports = read_metars(options.metar);
    if (!reports) return Error{"--metar: " + reports.error().sentence};
    take_report(when_unix_s ? nearest_report(*reports, *when_unix_s) : reports->back(), when_unix_s, weather);
  }
  if (!options.wind.empty()) {
    const auto wind = read_wind_text(options.wind);
    if (!wind) return Error{"--wind: " + wind.error().sentence};
    weather.wind = *wind;
  }
  if (options.temperature_c) weather.temperature_c = options.temperature_c;
  if (options.altimeter_hpa) weather.altimeter_hpa = options.altimeter_hpa;
  return weather;
}

}  // namespace glidewright

#include "apps/cli/inputs/setting.hpp"

#include <fmt/format.h>

#include "apps/cli/inputs/data_folder.hpp"
#include "apps/cli/inputs/runway_data.hpp"
#include "apps/cli/inputs/weather.hpp"
#include "engine/air/atmosphere.hpp"
#include "engine/plan/taught.hpp"
#include "formats/file.hpp"
#include "formats/runway_json.hpp"
#include "formats/technique_json.hpp"
#include "formats/words/numbers.hpp"

namespace glidewright {
namespace {

constexpr const char* k_generic_airplane = "generic-trainer";

std::optional<Error> first_outside(const SettingOptions& options) {
  for (const auto& [value, range] :
       {std::pair(options.temperature_c, k_temperature_range), std::pair(options.weight_lb, k_weight_range),
        std::pair(options.touchdown_point_ft, k_touchdown_point_range),
        std::pair(options.pattern_height_ft, OptionRange{"--pattern-height-ft", " ft", 300.0, 3000.0}),
        std::pair(options.spacing_nm, OptionRange{"--spacing-nm", " NM", 0.1, 2.5}),
        std::pair(options.pattern_speed_kt, OptionRange{"--pattern-speed-kt", " kt", 40.0, 150.0})}) {
    if (auto error = outside(value, range)) return error;
  }
  return std::nullopt;
}

Result<Technique> read_technique(const SettingOptions& options, const Setting& setting) {
  const auto& conditions = setting.conditions;
  Technique technique = taught_technique(setting.airplane, conditions.weight_lb, conditions.wind.gust.value);
  if (!options.technique.empty()) {
    const auto bytes = read_file(options.technique);
    if (!bytes) return bytes.error();
    auto given = read_technique_json(*bytes, options.technique);
    if (!given) return given.error();
    technique = *given;
  }
  return technique;
}

/// Options stand above the technique's file, the file above the defaults; a default that sets the cue is
/// said.
void set_pattern(const SettingOptions& options, Setting& setting) {
  auto& technique = setting.technique;
  auto& assumed = setting.assumed;
  const bool from_file = !options.technique.empty();
  const auto take = [&](const std::optional<double>& given, double& value, double in_unit,
                        const std::string& otherwise) {
    if (given) {
      value = *given * in_unit;
    } else if (!from_file) {
      assumed.push_back(otherwise);
    }
  };
  take(options.pattern_height_ft, technique.pattern_height_ft, 1.0,
       fmt::format("pattern height {} ft above the field", whole(technique.pattern_height_ft)));
  take(
      options.spacing_nm, technique.spacing_ft, to_feet(NauticalMiles{1.0}).value,
      fmt::format("downwind {:.2f} NM from the runway", to_nautical_miles(Feet{technique.spacing_ft}).value));
  take(options.pattern_speed_kt, technique.pattern_speed_kt, 1.0,
       fmt::format("pattern speed {:.0f} kt", technique.pattern_speed_kt));
  if (options.traffic.empty()) assumed.push_back("left-hand traffic");
  if (!options.touchdown_point_ft) {
    assumed.push_back(
        fmt::format("touchdown point {} ft past the threshold", whole(setting.touchdown_point.value)));
  }
}

void set_air(const Weather& weather, Setting& setting) {
  setting.altimeter_hpa = weather.altimeter_hpa.value_or(1013.25);
  if (!weather.altimeter_hpa) setting.assumed.push_back("altimeter setting 1013 hPa (29.92 inHg)");
  const Feet pressure = pressure_altitude(setting.runway.elevation, Hectopascals{setting.altimeter_hpa});
  setting.temperature_c = weather.temperature_c.value_or(standard_temperature(pressure).value);
  if (!weather.temperature_c) {
    setting.assumed.push_back(fmt::format("standard temperature, {:.0f} °C", setting.temperature_c));
  }
  setting.conditions.density_ratio = density_ratio(pressure, Celsius{setting.temperature_c});
}

}  // namespace

std::optional<Error> outside(const std::optional<double>& value, const OptionRange& range) {
  if (!value || (*value >= range.low && *value <= range.high)) return std::nullopt;
  return Error{fmt::format("{} {:.10g}{}; expected {:.10g} to {:.10g}", range.option, *value, range.unit,
                           range.low, range.high)};
}

Result<Runway> read_runway(const std::string& file_or_text, std::vector<std::string>& assumed) {
  if (file_or_text.find(',') != std::string::npos && file_or_text.find(".json") == std::string::npos) {
    auto runway = read_runway_text(file_or_text);
    if (!runway) return Error{"--runway: " + runway.error().sentence};
    return runway;
  }
  const auto bytes = read_file(file_or_text);
  if (!bytes && is_runway_name(file_or_text)) return find_runway(file_or_text, assumed);
  if (!bytes) {
    return Error{bytes.error().sentence +
                 "; a runway is a JSON file, AIRFIELD/DESIGNATOR of imported data or "
                 "lat,lon,true-bearing,elevation-ft,length-ft"};
  }
  return read_runway_json(*bytes, file_or_text);
}

std::string airplane_or_generic(const std::string& file_or_id, std::vector<std::string>& assumed) {
  if (!file_or_id.empty()) return file_or_id;
  assumed.push_back("a generic trainer with a wide spread, since no airplane is named");
  return k_generic_airplane;
}

Result<Airplane> read_airplane(const std::string& file_or_id, std::vector<std::string>& assumed) {
  return find_airplane(airplane_or_generic(file_or_id, assumed));
}

Result<std::optional<double>> read_altimeter(const std::optional<double>& hpa,
                                             const std::optional<double>& inhg) {
  if (auto error = outside(hpa, {"--altimeter-hpa", " hPa", 850.0, 1090.0})) return *error;
  if (auto error = outside(inhg, {"--altimeter-inhg", " inHg", 25.0, 32.2})) return *error;
  if (hpa) return hpa;
  if (inhg) return std::optional(to_hectopascals(InchesOfMercury{*inhg}).value);
  return std::optional<double>();
}

Result<Setting> read_setting(const SettingOptions& options) {
  Setting setting;
  if (const auto error = first_outside(options)) return *error;
  const auto altimeter = read_altimeter(options.altimeter_hpa, options.altimeter_inhg);
  if (!altimeter) return altimeter.error();

  NamedInRecords known;
  if (!options.records.empty()) {
    auto named = named_in_records(options.records, options.airplane, options.runway);
    if (!named) return named.error();
    known = std::move(*named);
  }
  if (known.runway) {
    setting.runway = *known.runway;
  } else if (options.runway.empty()) {
    setting.runway.length = Feet{5000.0};
    setting.assumed.push_back("a level runway at sea level, landing true north");
  } else {
    const auto runway = read_runway(options.runway, setting.assumed);
    if (!runway) return runway.error();
    setting.runway = *runway;
  }
  const auto airplane = known.airplane ? Result<Airplane>(fit_airplane(known.airplane->handbook))
                                       : read_airplane(options.airplane, setting.assumed);
  if (!airplane) return airplane.error();
  setting.airplane = *airplane;

  auto& conditions = setting.conditions;
  conditions.runway_true_deg = setting.runway.true_bearing.value;
  conditions.traffic = options.traffic == "right" ? Traffic::right : Traffic::left;
  const auto weather =
      read_weather({options.wind, options.metar, options.temperature_c, *altimeter}, std::nullopt);
  if (!weather) return weather.error();
  setting.assumed.insert(setting.assumed.end(), weather->said.begin(), weather->said.end());
  if (weather->wind) {
    conditions.wind = *weather->wind;
  } else {
    setting.assumed.push_back("no wind");
  }
  const double maximum_lb = setting.airplane.handbook.maximum_weight_lb.value;
  conditions.weight_lb = options.weight_lb.value_or(maximum_lb);
  if (!options.weight_lb) setting.assumed.push_back(fmt::format("maximum weight, {} lb", whole(maximum_lb)));
  set_air(*weather, setting);

  const auto technique = read_technique(options, setting);
  if (!technique) return technique.error();
  setting.technique = *technique;
  setting.touchdown_point = Feet{options.touchdown_point_ft.value_or(setting.touchdown_point.value)};
  if (setting.touchdown_point.value >= setting.runway.length.value) {
    return Error{fmt::format("--touchdown-point-ft {:.0f} ft lies past the end of the runway of {:.0f} ft",
                             setting.touchdown_point.value, setting.runway.length.value)};
  }
  set_pattern(options, setting);
  return setting;
}

}  // namespace glidewright

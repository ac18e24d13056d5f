#pragma once
// From what was typed to the values of the engine: runway, airplane, air and pattern, and what had to be
// assumed.

#include <optional>
#include <string>
#include <vector>

#include "engine/technique/approach.hpp"
#include "formats/result.hpp"

namespace glidewright {

/// Options of `brief` and `fly` as typed; what was not given is empty.
struct SettingOptions {
  std::string runway;  ///< a JSON file, or lat,lon,true-bearing,elevation-ft,length-ft
  std::string airplane;
  std::string records;  ///< where airplane and runway may be the school's, by name
  std::string wind;
  std::string metar;
  std::string technique;
  std::string traffic;
  std::optional<double> temperature_c;
  std::optional<double> altimeter_hpa;
  std::optional<double> altimeter_inhg;
  std::optional<double> weight_lb;
  std::optional<double> touchdown_point_ft;
  std::optional<double> pattern_height_ft;
  std::optional<double> spacing_nm;
  std::optional<double> pattern_speed_kt;
};

/// Everything an approach needs.
struct Setting {
  Runway runway;
  Feet touchdown_point{1000.0};
  Airplane airplane;
  Conditions conditions;
  Technique technique;
  double temperature_c = 15.0;
  double altimeter_hpa = 1013.25;
  std::vector<std::string> assumed;
};

Result<Setting> read_setting(const SettingOptions& options);

// Parts that `debrief` needs alone.
/// A JSON file, five numbers, or AIRFIELD/DESIGNATOR of the runway data; what was derived goes to `assumed`.
Result<Runway> read_runway(const std::string& file_or_text, std::vector<std::string>& assumed);
/// The airplane to look up: the generic trainer where none is named, which is then said.
std::string airplane_or_generic(const std::string& file_or_id, std::vector<std::string>& assumed);
Result<Airplane> read_airplane(const std::string& file_or_id, std::vector<std::string>& assumed);
/// Hectopascals from either option.
Result<std::optional<double>> read_altimeter(const std::optional<double>& hpa,
                                             const std::optional<double>& inhg);

/// What an option may be, for one sentence when it is not.
struct OptionRange {
  const char* option;
  const char* unit;
  double low;
  double high;
};
std::optional<Error> outside(const std::optional<double>& value, const OptionRange& range);

inline constexpr OptionRange k_temperature_range{"--temperature-c", " C", -60.0, 60.0};
inline constexpr OptionRange k_weight_range{"--weight-lb", " lb", 400.0, 12500.0};
inline constexpr OptionRange k_touchdown_point_range{"--touchdown-point-ft", " ft", 0.0, 10000.0};

}  // namespace glidewright

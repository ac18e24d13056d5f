#include "formats/csv_columns.hpp"

#include <algorithm>
#include <iterator>
#include <numbers>

#include "engine/units/units.hpp"

namespace glidewright {
namespace {

enum class Dimension { none, length, speed, angle, temperature, acceleration };

struct UnitName {
  std::string_view name;
  Dimension dimension;
  double scale;  // to feet, knots, degrees Celsius
  std::string_view known_as;
  double offset = 0.0;
};

constexpr double k_feet_per_metre = 1.0 / k_metres_per_foot;
constexpr double k_knots_per_metre_per_second = 3600.0 / k_metres_per_nautical_mile;

constexpr UnitName k_units[] = {
    {"ft", Dimension::length, 1.0, "ft"},
    {"feet", Dimension::length, 1.0, "ft"},
    {"m", Dimension::length, k_feet_per_metre, "m"},
    {"metres", Dimension::length, k_feet_per_metre, "m"},
    {"meters", Dimension::length, k_feet_per_metre, "m"},
    {"kt", Dimension::speed, 1.0, "kt"},
    {"kts", Dimension::speed, 1.0, "kt"},
    {"knots", Dimension::speed, 1.0, "kt"},
    {"m/s", Dimension::speed, k_knots_per_metre_per_second, "m/s"},
    {"mps", Dimension::speed, k_knots_per_metre_per_second, "m/s"},
    {"ms", Dimension::speed, k_knots_per_metre_per_second, "m/s"},
    {"km/h", Dimension::speed, 1000.0 / k_metres_per_nautical_mile, "km/h"},
    {"kmh", Dimension::speed, 1000.0 / k_metres_per_nautical_mile, "km/h"},
    {"kph", Dimension::speed, 1000.0 / k_metres_per_nautical_mile, "km/h"},
    {"mph", Dimension::speed, 1609.344 / k_metres_per_nautical_mile, "mph"},
    {"deg", Dimension::angle, 1.0, "deg"},
    {"degrees", Dimension::angle, 1.0, "deg"},
    {"\xC2\xB0", Dimension::angle, 1.0, "deg"},
    {"c", Dimension::temperature, 1.0, "C"},
    {"degc", Dimension::temperature, 1.0, "C"},
    {"\xC2\xB0"
     "c",
     Dimension::temperature, 1.0, "C"},
    {"f", Dimension::temperature, 5.0 / 9.0, "F", -160.0 / 9.0},
    {"degf", Dimension::temperature, 5.0 / 9.0, "F", -160.0 / 9.0},
    {"\xC2\xB0"
     "f",
     Dimension::temperature, 5.0 / 9.0, "F", -160.0 / 9.0},
    {"rad", Dimension::angle, 180.0 / std::numbers::pi, "rad"},
    {"deg_min", Dimension::angle, 1.0, "deg_min"},
    {"m/s2", Dimension::acceleration, 1.0, "m/s2"},
    {"m/s\xC2\xB2", Dimension::acceleration, 1.0, "m/s2"},
    {"mps2", Dimension::acceleration, 1.0, "m/s2"},
    {"g", Dimension::acceleration, 9.80665, "g"},
};

struct FieldName {
  std::string_view name;  // words joined by "_", unit taken off
  CsvField field;
  Dimension dimension;
};

constexpr FieldName k_fields[] = {
    {"time", CsvField::time, Dimension::none},
    {"timestamp", CsvField::time, Dimension::none},
    {"datetime", CsvField::time, Dimension::none},
    {"date_time", CsvField::time, Dimension::none},
    {"utc", CsvField::time, Dimension::none},
    {"date", CsvField::date, Dimension::none},
    {"time_of_day", CsvField::time_of_day, Dimension::none},
    {"time_unix", CsvField::unix_s, Dimension::none},
    {"unix_time", CsvField::unix_s, Dimension::none},
    {"unix", CsvField::unix_s, Dimension::none},
    {"unix_timestamp", CsvField::unix_s, Dimension::none},
    {"epoch", CsvField::unix_s, Dimension::none},
    {"lat", CsvField::latitude, Dimension::angle},
    {"latitude", CsvField::latitude, Dimension::angle},
    {"lon", CsvField::longitude, Dimension::angle},
    {"lng", CsvField::longitude, Dimension::angle},
    {"long", CsvField::longitude, Dimension::angle},
    {"longitude", CsvField::longitude, Dimension::angle},
    {"alt_gnss", CsvField::altitude, Dimension::length},
    {"alt_gps", CsvField::altitude, Dimension::length},
    {"gps_alt", CsvField::altitude, Dimension::length},
    {"gps_altitude", CsvField::altitude, Dimension::length},
    {"gnss_altitude", CsvField::altitude, Dimension::length},
    {"alt", CsvField::altitude, Dimension::length},
    {"altitude", CsvField::altitude, Dimension::length},
    {"alt_msl", CsvField::altitude, Dimension::length},
    {"altitude_msl", CsvField::altitude, Dimension::length},
    {"ele", CsvField::altitude, Dimension::length},
    {"elevation", CsvField::altitude, Dimension::length},
    {"groundspeed", CsvField::groundspeed, Dimension::speed},
    {"ground_speed", CsvField::groundspeed, Dimension::speed},
    {"gs", CsvField::groundspeed, Dimension::speed},
    {"gps_speed", CsvField::groundspeed, Dimension::speed},
    {"gnss_speed", CsvField::groundspeed, Dimension::speed},
    {"speed", CsvField::groundspeed, Dimension::speed},
    {"track", CsvField::course, Dimension::angle},
    {"track_true", CsvField::course, Dimension::angle},
    {"course", CsvField::course, Dimension::angle},
    {"course_true", CsvField::course, Dimension::angle},
    {"ias", CsvField::indicated_airspeed, Dimension::speed},
    {"indicated_airspeed", CsvField::indicated_airspeed, Dimension::speed},
    {"baro_alt", CsvField::pressure_altitude, Dimension::length},
    {"baro_altitude", CsvField::pressure_altitude, Dimension::length},
    {"indicated_altitude", CsvField::pressure_altitude, Dimension::length},
    {"pitch", CsvField::pitch, Dimension::angle},
    {"roll", CsvField::roll, Dimension::angle},
    {"bank", CsvField::roll, Dimension::angle},
    {"heading_true", CsvField::heading, Dimension::angle},
    {"true_heading", CsvField::heading, Dimension::angle},
    {"rpm", CsvField::powerplant_rpm, Dimension::none},
    {"engine_rpm", CsvField::powerplant_rpm, Dimension::none},
    {"oat", CsvField::outside_air_temperature, Dimension::temperature},
    {"outside_air_temperature", CsvField::outside_air_temperature, Dimension::temperature},
    {"flap", CsvField::flap, Dimension::angle},
    {"flaps", CsvField::flap, Dimension::angle},
    {"utc_offset", CsvField::utc_offset, Dimension::none},
    {"segment", CsvField::segment, Dimension::none},
    {"elapsed", CsvField::elapsed, Dimension::none},
    {"elapsed_time", CsvField::elapsed, Dimension::none},
    {"time_elapsed", CsvField::elapsed, Dimension::none},
    {"seconds_elapsed", CsvField::elapsed, Dimension::none},
    {"elapsed_seconds", CsvField::elapsed, Dimension::none},
    {"seconds", CsvField::elapsed, Dimension::none},
    {"t", CsvField::elapsed, Dimension::none},
};

/// "ax", "accel_x", "X Acceleration", "linearAccelerationX", "gFx", or nothing but "x".
std::optional<CsvField> acceleration_axis(std::string_view name) {
  std::string letters;
  for (const char c : name)
    if (c != '_') letters += c;
  const auto axis_of = [&](char c, std::string_view rest) -> std::optional<CsvField> {
    if (c < 'x' || c > 'z') return std::nullopt;
    const bool said = rest.find("acc") != std::string_view::npos && rest.substr(0, 6) != "accura";
    if (!said && !rest.empty() && rest != "a" && rest != "gf") return std::nullopt;
    return static_cast<CsvField>(static_cast<int>(CsvField::acceleration_x) + (c - 'x'));
  };
  if (letters.empty()) return std::nullopt;
  const std::string_view all = letters;
  if (const auto last = axis_of(all.back(), all.substr(0, all.size() - 1))) return last;
  return axis_of(all.front(), all.substr(1));
}

/// Lower-case words; "/" and bytes beyond ASCII (the degree sign) belong to a word.
std::vector<std::string> words_of(std::string_view header) {
  std::vector<std::string> words(1);
  for (const char c : header) {
    const bool upper = c >= 'A' && c <= 'Z';
    const bool in_word = upper || (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '/' ||
                         static_cast<unsigned char>(c) >= 0x80;
    if (in_word) {
      words.back() += upper ? static_cast<char>(c - 'A' + 'a') : c;
    } else if (!words.back().empty()) {
      words.emplace_back();
    }
  }
  if (words.back().empty()) words.pop_back();
  return words;
}

const UnitName* unit_named(std::string_view word) {
  const auto unit =
      std::find_if(std::begin(k_units), std::end(k_units), [&](const UnitName& u) { return u.name == word; });
  return unit == std::end(k_units) ? nullptr : unit;
}

}  // namespace

std::optional<CsvColumn> csv_column(std::string_view header) {
  constexpr std::size_t k_longest_header = 60;
  if (header.size() > k_longest_header) return std::nullopt;
  auto words = words_of(header);
  if (words.size() > 1 &&
      (words.back() == "utc" || (words.back() == "z" && !acceleration_axis(words.front() + "z")) ||
       words.back() == "s" || words.back() == "us" || words.back() == "ns"))
    words.pop_back();
  bool local = false;
  if (words.size() > 1 && words.front() == "local") {
    local = true;
    words.erase(words.begin());
  }
  if (words.size() > 1 && words.front() == "utc" && words[1] != "offset") words.erase(words.begin());
  // "m/s^2" falls into two words.
  if (words.size() > 2 && words.back() == "2" && words[words.size() - 2] == "m/s") {
    words.pop_back();
    words.back() = "m/s2";
  }
  const UnitName* unit = words.size() > 1 ? unit_named(words.back()) : nullptr;
  if (unit != nullptr) words.pop_back();
  std::string name;
  for (const auto& word : words) name += (name.empty() ? "" : "_") + word;

  const auto known = std::find_if(std::begin(k_fields), std::end(k_fields),
                                  [&](const FieldName& f) { return f.name == name; });
  std::optional<FieldName> field;
  if (known != std::end(k_fields)) {
    field = *known;
  } else if (const auto axis = acceleration_axis(name)) {
    field = FieldName{name, *axis, Dimension::acceleration};
  }
  if (!field) return std::nullopt;
  // "Time (ms)": which unit it is shows in the numbers.
  if (field->field == CsvField::time || field->field == CsvField::elapsed) unit = nullptr;
  if (unit != nullptr && unit->dimension != field->dimension) return std::nullopt;
  CsvColumn column;
  column.field = field->field;
  column.header = std::string(header);
  column.local_time = local;
  const auto units = csv_units_of(column.field);
  if (!units.empty()) set_csv_unit(column, unit != nullptr ? unit->name : units.front());
  column.unit_assumed =
      unit == nullptr && (field->dimension == Dimension::length || field->dimension == Dimension::speed ||
                          field->dimension == Dimension::acceleration);
  return column;
}

std::string_view csv_field_name(CsvField field) {
  constexpr std::string_view k_names[] = {"time",
                                          "time_of_day",
                                          "date",
                                          "unix_time",
                                          "latitude",
                                          "longitude",
                                          "altitude",
                                          "groundspeed",
                                          "course_true",
                                          "indicated_airspeed",
                                          "indicated_altitude",
                                          "pitch",
                                          "roll",
                                          "heading_true",
                                          "rpm",
                                          "outside_air_temperature",
                                          "flap",
                                          "utc_offset",
                                          "segment",
                                          "elapsed",
                                          "acceleration_x",
                                          "acceleration_y",
                                          "acceleration_z"};
  static_assert(std::size(k_names) == static_cast<std::size_t>(CsvField::count));
  return k_names[static_cast<std::size_t>(field)];
}

std::optional<CsvField> csv_field_named(std::string_view name) {
  for (std::size_t i = 0; i < static_cast<std::size_t>(CsvField::count); ++i) {
    if (csv_field_name(static_cast<CsvField>(i)) == name) return static_cast<CsvField>(i);
  }
  return std::nullopt;
}

std::vector<std::string_view> csv_units_of(CsvField field) {
  switch (field) {
    case CsvField::latitude:
    case CsvField::longitude:
      return {"deg", "deg_min"};
    case CsvField::altitude:
    case CsvField::pressure_altitude:
      return {"ft", "m"};
    case CsvField::groundspeed:
    case CsvField::indicated_airspeed:
      return {"kt", "km/h", "m/s", "mph"};
    case CsvField::course:
    case CsvField::pitch:
    case CsvField::roll:
    case CsvField::heading:
    case CsvField::flap:
      return {"deg", "rad"};
    case CsvField::outside_air_temperature:
      return {"C", "F"};
    case CsvField::acceleration_x:
    case CsvField::acceleration_y:
    case CsvField::acceleration_z:
      return {"m/s2", "g"};
    default:
      return {};
  }
}

bool set_csv_unit(CsvColumn& column, std::string_view unit) {
  std::string lower(unit);
  for (char& c : lower) c = c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
  const UnitName* known = unit_named(lower);
  if (known == nullptr) return false;
  const auto allowed = csv_units_of(column.field);
  if (std::find(allowed.begin(), allowed.end(), known->known_as) == allowed.end()) return false;
  column.scale = known->scale;
  column.offset = known->offset;
  column.unit = std::string(known->known_as);
  column.unit_assumed = false;
  return true;
}

}  // namespace glidewright

#pragma once
// What the columns of a CSV log mean, from the names in its header row.

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace glidewright {

/// What a column holds, once its values are multiplied by `scale`: feet, knots, degrees, degrees Celsius,
/// m/s2.
enum class CsvField {
  time,         ///< date and time of day together, ISO 8601
  time_of_day,  ///< needs a date column
  date,
  unix_s,
  latitude,
  longitude,
  altitude,
  groundspeed,
  course,
  indicated_airspeed,
  pressure_altitude,
  pitch,
  roll,
  heading,
  powerplant_rpm,
  outside_air_temperature,
  flap,
  utc_offset,  ///< of the times in the same row
  segment,     ///< any text; another one than in the row before begins a new segment
  elapsed,     ///< counted from anywhere, rising; s, ms, us or ns shows in how fast it rises
  acceleration_x,
  acceleration_y,
  acceleration_z,
  count  // how many there are
};

/// One column that is used.
struct CsvColumn {
  std::size_t index = 0;
  CsvField field = CsvField::time;
  double scale = 1.0;         ///< to feet, knots, degrees Celsius; 1 for all else
  double offset = 0.0;        ///< added once scaled
  std::string unit;           ///< as csv_units_of names it; empty for what has none
  bool local_time = false;    ///< the header says that it is not UTC
  bool unit_assumed = false;  ///< the header named no unit: taken as feet or knots
  std::string header;         ///< as written
};

/// Meaning of one header: "alt_gnss_ft", "Altitude (m)", "Ground Speed [km/h]", "Latitude". Case, blanks and
/// brackets do not matter. None for what is not known; magnetic directions are not taken for true ones.
std::optional<CsvColumn> csv_column(std::string_view header);

/// "altitude": how a field is called in a saved mapping.
std::string_view csv_field_name(CsvField field);
std::optional<CsvField> csv_field_named(std::string_view name);

/// Units that a field may have, the first the one taken where none is named; empty for what has none.
std::vector<std::string_view> csv_units_of(CsvField field);

/// Sets scale, offset and unit from a unit's name; false where the field cannot have it.
bool set_csv_unit(CsvColumn& column, std::string_view unit);

}  // namespace glidewright

#pragma once
// What the columns of a CSV log mean, from the names in its header row.

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace glidewright {

/// What a column holds, once its values are multiplied by `scale`: feet, knots, degrees, degrees Celsius.
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
  count  // how many there are
};

/// One column that is used.
struct CsvColumn {
  std::size_t index = 0;
  CsvField field = CsvField::time;
  double scale = 1.0;         ///< to feet, knots; 1 for all else
  bool unit_assumed = false;  ///< the header named no unit: taken as feet or knots
  std::string header;         ///< as written
};

/// Meaning of one header: "alt_gnss_ft", "Altitude (m)", "Ground Speed [km/h]", "Latitude". Case, blanks and
/// brackets do not matter. None for what is not known; magnetic directions are not taken for true ones.
std::optional<CsvColumn> csv_column(std::string_view header);

}  // namespace glidewright

#pragma once

#include <string>

#include "engine/accelerometer/clock.hpp"
#include "engine/track/log.hpp"
#include "formats/csv_mapping.hpp"
#include "formats/result.hpp"

namespace glidewright {

/// A track log's file, and what goes with it; empty for none.
struct LogFiles {
  std::string log;
  std::string panel;        ///< what the panel recorded beside it
  std::string columns;      ///< how to read the CSV: the panel's where there is one, else the log's
  std::string height_unit;  ///< "ft" or "m": the log's heights, whatever its format says
};

Result<TrackLog> read_log(const LogFiles& files);

/// What goes with a log without positions of its own: a panel's CSV, a phone's accelerometer.
enum class BesideKind { panel, accelerometer };
Result<BesideKind> kind_of_beside(const std::string& file, const CsvMapping* columns);

/// In pieces, so that hours of it need a few megabytes; packed: as a whole.
Result<AccelerometerLog> read_accelerometer_file(const std::string& file, const CsvMapping* columns);

/// "same", seconds ahead of the log's such as +2.5, or the moment at which its count was 0; empty: to be
/// found. The last moves the log.
Result<ClockWish> read_clock(const std::string& text, AccelerometerLog& log);

/// A saved mapping of columns.
Result<CsvMapping> read_columns(const std::string& file);

/// "ft" or "m" as typed or kept; none where nothing was said.
std::optional<HeightUnit> told_height_unit(const std::string& unit);

}  // namespace glidewright

#pragma once

#include <string>

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

/// A saved mapping of columns.
Result<CsvMapping> read_columns(const std::string& file);

}  // namespace glidewright

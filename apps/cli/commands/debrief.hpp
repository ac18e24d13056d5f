#pragma once

#include <optional>
#include <string>
#include <vector>

#include "apps/cli/inputs/data_folder.hpp"
#include "formats/debrief_json.hpp"
#include "formats/result.hpp"

namespace glidewright {

/// Options of `debrief` as typed.
struct DebriefOptions {
  std::vector<std::string> logs;
  std::vector<std::string> with;  ///< CSVs without positions for the one log: a panel's, an accelerometer's
  std::string with_clock;         ///< the accelerometer's, as typed
  std::string columns;            ///< a file glidewright.columns/1: how to read the CSV
  std::string height_unit;        ///< "ft" or "m": of the log, whatever its format says; empty: as that says
  std::string runway;
  std::string airplane;
  std::string wind;
  std::string metar;
  std::string traffic;
  std::vector<std::string> standards;
  std::optional<Standard> known_standard;  ///< the one to judge by, whatever `standards` names
  std::string plan;               ///< a file that brief --json wrote: what causes are measured against
  std::string marks;              ///< a file glidewright.marks/1, for the one log
  std::string known_marks;        ///< the text of such a file, where none is named
  std::vector<std::string> seen;  ///< "2:+120": touchdown of an attempt as seen, ft past the point
  std::string records;            ///< where airplane and runway may be the school's, by name
  std::optional<AirplaneFile> fleet_airplane;  ///< found in the records by the name in `airplane`
  std::optional<Runway> fleet_runway;          ///< the same of `runway`
  std::optional<double> touchdown_point_ft;
  std::optional<double> temperature_c;
  std::optional<double> altimeter_hpa;
  std::optional<double> altimeter_inhg;
  std::optional<double> weight_lb;
};

/// Reads and debriefs one log of these options.
Result<DebriefedLog> debrief_log(const std::string& file, const DebriefOptions& options);
/// The same without the reachable bands, which a row of a summary does not show.
Result<DebriefedLog> debrief_log_without_bands(const std::string& file, const DebriefOptions& options);

}  // namespace glidewright

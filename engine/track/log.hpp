#pragma once
// A track log as the readers hand it over: positions as recorded, and whatever else the device wrote.

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "engine/track/runway.hpp"

namespace glidewright {

/// One recorded position.
struct Fix {
  double time_unix_s = 0.0;  ///< UTC, seconds since 1970-01-01, fractions kept
  Geodetic place;
  std::optional<double> altitude_ft;      ///< above mean sea level, as the device wrote it
  std::optional<double> groundspeed_kt;   ///< as recorded, not derived
  std::optional<double> course_true_deg;  ///< over the ground
  std::uint32_t segment = 0;              ///< a new one starts after a lost signal; never joined
};

/// One line of what the panel recorded; any column may be missing.
struct PanelSample {
  double time_unix_s = 0.0;
  std::optional<double> indicated_airspeed_kt;
  std::optional<double> pressure_altitude_ft;  ///< indicated: altimeter set to the local setting
  std::optional<double> pitch_deg;
  std::optional<double> roll_deg;  ///< right positive
  std::optional<double> heading_true_deg;
  std::optional<double> powerplant_rpm;
  std::optional<double> flap_deg;
  std::optional<double> outside_air_temperature_c;
};

/// What a file's heights are written in.
enum class HeightUnit { feet, metres };

/// The receiver repeated its last position while the airplane moved on; the repeats are not among the fixes.
struct Freeze {
  double from_unix_s = 0.0;  ///< of the fix that was repeated
  double to_unix_s = 0.0;    ///< of its last repeat
};

struct TrackLog {
  std::string format;                          ///< "gpx", "csv", "igc", "kml", "nmea"
  std::vector<Fix> fixes;                      ///< times strictly increasing
  std::vector<Freeze> freezes;                 ///< in order; see frozen_positions.hpp
  std::vector<PanelSample> panel;              ///< times strictly increasing; empty for positions alone
  bool panel_shares_clock = false;             ///< positions and panel were written by one device
  HeightUnit heights_in = HeightUnit::metres;  ///< what the file's were taken for; here they are feet
  std::string sha256;                          ///< of the log's bytes (unpacked), 64 hex digits
  std::vector<std::string> notes;              ///< every repair made, in plain words
};

}  // namespace glidewright

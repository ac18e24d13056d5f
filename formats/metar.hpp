#pragma once
// Weather reports of aerodromes.

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "engine/air/wind.hpp"
#include "formats/result.hpp"

namespace glidewright {

/// What a report says that matters to an approach. Groups that are missing, or "///", are empty.
struct Metar {
  std::string station;
  int day = 0;  ///< of the month
  int hour = 0;
  int minute = 0;                     ///< UTC
  std::optional<WindProfile> wind;    ///< true directions; "VRB" has none, see variable_kt
  std::optional<double> variable_kt;  ///< speed of a wind without direction
  std::optional<double> varies_from_true_deg, varies_to_true_deg;
  std::optional<double> temperature_c, dewpoint_c;  ///< to a tenth where the remarks have it
  std::optional<double> altimeter_hpa;
  std::optional<double> ceiling_ft;  ///< lowest broken, overcast or obscured layer above the field
};

/// One report: station and time are needed, every other group may be missing. Speeds in KT, MPS or KMH,
/// pressure Q or A, trends and remarks passed over but for the T group.
/// Source: WMO-No. 306, FM-15; US Federal Meteorological Handbook 1, chapter 12.
Result<Metar> read_metar(std::string_view text);

/// Several reports, each on a line of its own or ended by "=". An error in one is an error of all.
Result<std::vector<Metar>> read_metars(std::string_view text);

/// The report nearest to a moment; its month is the one that brings it nearest. `reports` is not empty.
const Metar& nearest_report(const std::vector<Metar>& reports, double time_unix_s);

/// How long before the moment it was made, s; negative: after it.
double age_s(const Metar& report, double time_unix_s);

}  // namespace glidewright

#pragma once
// The reference flights with their truth, as the measurements use them.

#include <fstream>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "engine/debrief/debrief.hpp"
#include "formats/airplane_json.hpp"
#include "formats/file.hpp"
#include "formats/standard_json.hpp"
#include "formats/track_log.hpp"

namespace glidewright {

inline const std::vector<std::string> k_reference_flights = {"F02", "F03", "F08", "F11", "F12",
                                                             "F15", "F18", "F20", "F22", "F24"};

struct ReferenceLog {
  std::string name;
  nlohmann::json truth;
  DebriefRequest request;  ///< runway and point given, wind and airplane not
};

inline std::string reference_folder(const std::string& flight) {
  return std::string(GLIDEWRIGHT_TEST_DATA) + "/flights/" + flight + "/";
}

/// ending: "gpx" (one position a second), "csv" (five), or "gpx+panel" where there is a panel's file.
inline bool has_panel(const std::string& flight) {
  return std::ifstream(reference_folder(flight) + flight + "_avionics.csv").good();
}

inline ReferenceLog read_reference(const std::string& flight, std::string ending) {
  const bool with_panel = ending == "gpx+panel";
  if (with_panel) ending = "gpx";
  ReferenceLog reference;
  reference.name = flight + "." + ending;
  std::ifstream file(reference_folder(flight) + "truth.json");
  reference.truth = nlohmann::json::parse(file);
  const std::string log = reference_folder(flight) + reference.name;
  reference.request.log = *read_track_log(*read_file(log), reference.name);
  if (with_panel) {
    const std::string panel = reference_folder(flight) + flight + "_avionics.csv";
    reference.request.log.panel = *read_panel(*read_file(panel), panel);
  }
  const auto& at = reference.truth["runway"];
  Runway runway;
  runway.designator = at["ident"];
  runway.threshold = {at["threshold_lat_deg"], at["threshold_lon_deg"]};
  runway.true_bearing.value = at["true_heading_deg"];
  runway.elevation.value = at["elevation_ft"];
  runway.length.value = at["length_ft"];
  reference.request.runway = runway;
  reference.request.touchdown_point.value = reference.truth["touchdown_point"]["past_threshold_ft"];
  const std::string airplane = std::string(GLIDEWRIGHT_DATA) + "/airplanes/generic-trainer.json";
  reference.request.airplane = fit_airplane(*read_airplane_json(*read_file(airplane), airplane));
  const std::string standard = std::string(GLIDEWRIGHT_DATA) + "/standards/us-commercial-power-off-180.json";
  reference.request.standards = {*read_standard_json(*read_file(standard), standard)};
  return reference;
}

}  // namespace glidewright

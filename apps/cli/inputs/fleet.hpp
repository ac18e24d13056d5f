#pragma once
// Airplanes and airfields of the records, as commands take those of files.

#include "apps/cli/commands/debrief.hpp"
#include "apps/cli/inputs/data_folder.hpp"
#include "store/records.hpp"

namespace glidewright {

/// The version that counts; it is known by the name that the school gives it.
Result<AirplaneFile> airplane_file_of(const FleetItem& airplane);

/// The runway with that designator; the only one where none is named.
Result<Runway> runway_of(const FleetItem& airfield, const std::string& designator);

/// "Harrow Fen/24", or "Harrow Fen" where it has one runway; none where the records know no such airfield.
Result<std::optional<Runway>> find_fleet_runway(Records& records, const std::string& name);
/// None where the records know no airplane of that name.
Result<std::optional<AirplaneFile>> find_fleet_airplane(Records& records, const std::string& name);

/// Fills in airplane and runway of the fleet where the options name them; leaves the options as they are
/// where the names are not the fleet's.
std::optional<Error> look_up_in_fleet(Records& records, DebriefOptions& options);

}  // namespace glidewright

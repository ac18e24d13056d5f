#pragma once
// What a log's debrief names of the fleet, by the names that the school gives.

#include "apps/server/parts.hpp"
#include "store/records.hpp"

namespace glidewright {

/// Of `asked` (docs/schema/log-asked.json) "fleet_airplane" and "airfield"; refused where the records know
/// none of that name.
Result<NamedOfFleet> named_of_fleet(Records& records, const std::string& asked);

}  // namespace glidewright

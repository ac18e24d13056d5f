#pragma once
// What the records know of a log's debrief: the fleet by the names that the school gives, and the log itself.

#include "apps/server/parts.hpp"
#include "store/queue.hpp"

namespace glidewright {

/// Of `asked` (docs/schema/log-asked.json) "fleet_airplane" and "airfield"; refused where the records know
/// none of that name.
Result<KnownToRecords> known_to_records(Records& records, const std::string& asked);
/// The same, and what was told of that log before.
Result<KnownToRecords> known_to_records(Records& records, const Job& job, const std::string& log_bytes);

}  // namespace glidewright

#pragma once
// The debrief of a log as JSON: `glidewright.debrief/1`, docs/schema/debrief.json; of several logs,
// `glidewright.debriefs/1`, docs/schema/debriefs.json.

#include <string>
#include <vector>

#include "engine/debrief/debrief.hpp"
#include "formats/json_write.hpp"

namespace glidewright {

/// A debrief with what it was asked with.
struct DebriefedLog {
  std::string file;  ///< as the user named it
  std::string airplane_id;
  std::string airplane_name;
  Debrief debrief;
};

/// One object. A key point that was not flown, or that the log does not show, is null.
Json debrief_to_json(const DebriefedLog& debriefed);
/// One object with a list of the above.
Json debriefs_to_json(const std::vector<DebriefedLog>& debriefed);

// The words of the interface, for whoever shows the same values.
std::string kind_name(AttemptKind kind);
std::string outcome_name(Outcome outcome);
std::string verdict_name(Verdict verdict);

}  // namespace glidewright

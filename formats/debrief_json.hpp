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

/// Whether attempts carry what was flown second by second, some 30 kB each.
enum class JsonPath { left_out, with_path };

/// One object. A key point that was not flown, or that the log does not show, is null.
Json debrief_to_json(const DebriefedLog& debriefed, JsonPath path = JsonPath::left_out);
/// One object with a list of the above.
Json debriefs_to_json(const std::vector<DebriefedLog>& debriefed, JsonPath path = JsonPath::left_out);

// The words of the interface, for whoever shows the same values.
std::string kind_name(AttemptKind kind);
std::string outcome_name(Outcome outcome);
std::string verdict_name(Verdict verdict);

}  // namespace glidewright

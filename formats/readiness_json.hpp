#pragma once
// What a student's logs prove, as JSON: `glidewright.readiness/1`, docs/schema/readiness.json.

#include <string>
#include <vector>

#include "engine/progress/readiness.hpp"
#include "formats/debrief_json.hpp"

namespace glidewright {

/// One attempt of one log, with what made it count.
struct CountedAttempt {
  std::string file;
  int index = 0;
  double time_unix_s = 0.0;
  RatedAttempt rated;
};

struct ReadinessOfLogs {
  std::string standard_id;
  std::string standard_name;
  ReadinessRules rules;
  std::vector<CountedAttempt> attempts;  ///< in the order flown, whatever the order of the logs
  Readiness readiness;
};

/// Power-off attempts of all logs by time, first of each day (UTC) marked; flown with power and unfinished
/// ones are not attempts. A standard that none of them was graded by gives an empty list.
ReadinessOfLogs readiness_of(const std::vector<DebriefedLog>& logs, const std::string& standard_id,
                             const ReadinessRules& rules = {});

/// The same of attempts that were rated before. Standard and attempts must be filled in; the rest follows.
void complete_readiness(ReadinessOfLogs& result);

Json readiness_to_json(const ReadinessOfLogs& result);

}  // namespace glidewright

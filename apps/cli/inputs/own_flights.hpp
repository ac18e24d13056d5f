#pragma once
// Moments of a student's own flights, out of the records.

#include <cstdint>
#include <string>

#include "apps/cli/commands/debrief.hpp"
#include "formats/own_drill_json.hpp"
#include "store/records.hpp"

namespace glidewright {

struct OwnDrillAsked {
  std::uint64_t seed = 1;
  std::size_t count = 10;
  std::string standard;    ///< as find_standard_with takes it
  DebriefOptions debrief;  ///< a runway for all the logs, where one is named
};

/// Each log is debriefed once, as it was filed; each attempt is asked about, or counted by why not. An error
/// where none is left to ask about.
Result<OwnDrill> draw_own_drill(Records& records, long long student, const OwnDrillAsked& asked);

/// "Not asked about: 2 attempts: judged by another standard."; empty where all were.
std::string own_left_out_words(const OwnDrill& drill);

}  // namespace glidewright

#pragma once
// What an attempt is played back from, as keys of the attempt in `glidewright.debrief/1`.

#include "engine/debrief/replay.hpp"
#include "formats/json_write.hpp"

namespace glidewright {

/// Adds flown_from, flown and planned to an attempt. Heights and places to whole feet.
void add_replay(Json& attempt, const Replay& replay);

}  // namespace glidewright

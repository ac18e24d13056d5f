#pragma once
// Published and house standards as JSON files.

#include <string>
#include <string_view>

#include "engine/debrief/standard.hpp"
#include "formats/result.hpp"

namespace glidewright {

/// Reads `glidewright.standard/1`, docs/schema/standard.json. "box" is {"low_ft", "high_ft"} from the
/// touchdown point, or null where the numeric limit has not been seen, which is then never graded.
/// "source_state" must say how well the text is known. A house standard has "version" and "set_by" in place
/// of "edition", or beside it. "limit_seen": false keeps a box whose published text was not seen; it is never
/// graded either. id is the file name without its ending.
Result<Standard> read_standard_json(std::string_view bytes, std::string_view name);

/// The same text without blanks and with its names in alphabetical order, so that only what it says decides
/// whether two are the same. `bytes`: one that read_standard_json takes.
std::string canonical_standard(std::string_view bytes);

}  // namespace glidewright

#pragma once
// The user's own copy of the open runway table, and runways looked up in it.

#include <string>
#include <vector>

#include "formats/result.hpp"
#include "formats/runway_table.hpp"

namespace glidewright {

/// GLIDEWRIGHT_RUNWAYS, else runways.csv in the user's data folder (XDG_DATA_HOME, ~/.local/share).
Result<std::string> runway_data_file();

/// The table's bytes; an error says how to import one.
Result<std::string> runway_data();

/// The runway of a name such as EDXX/24; what was derived goes to `assumed`.
Result<Runway> find_runway(const std::string& name, std::vector<std::string>& assumed);

}  // namespace glidewright

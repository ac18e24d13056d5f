#pragma once

#include <string>

#include "engine/track/log.hpp"
#include "formats/result.hpp"

namespace glidewright {

/// A track log, and what the panel recorded beside it; no panel file, no panel.
Result<TrackLog> read_log(const std::string& file, const std::string& panel_file);

}  // namespace glidewright

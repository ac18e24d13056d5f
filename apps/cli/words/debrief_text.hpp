#pragma once

#include <string>

#include "apps/cli/words/page.hpp"
#include "formats/debrief_json.hpp"

namespace glidewright {

enum class Pictures { none, drawn };

/// The debrief as an instructor tells it: safety first, then every attempt. Not yet `printed`.
std::string debrief_text(const DebriefedLog& debriefed, const Page& page, Pictures pictures);

}  // namespace glidewright

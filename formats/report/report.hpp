#pragma once
// The debrief as one page of HTML that needs nothing else.

#include <string>

#include "formats/debrief_json.hpp"

namespace glidewright {

/// Self-contained: no address outside it, opens from a mail attachment, prints on A4. The same debrief gives
/// the same bytes. Safety findings come first; every number is one of the debrief's own, rounded as on the
/// terminal.
std::string debrief_report_html(const DebriefedLog& debriefed);

}  // namespace glidewright

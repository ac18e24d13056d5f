#pragma once

#include <cstddef>
#include <string>

#include "apps/cli/words/page.hpp"
#include "formats/summary_json.hpp"

namespace glidewright {

/// A row for each attempt of many logs, the totals, and what could not be debriefed and why.
std::string summary_text(const Summary& summary, const Page& page);

/// "[####......] 400 of 1,000 files, 3 not debriefed"
std::string progress_words(std::size_t done, std::size_t files, std::size_t refused);

}  // namespace glidewright

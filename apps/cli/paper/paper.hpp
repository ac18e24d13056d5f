#pragma once
// Report and ramp card as PDF. The page in a browser has no need of it: there the browser prints.

#include <string>
#include <vector>

#include "engine/plan/other_winds.hpp"
#include "formats/brief_json.hpp"
#include "formats/debrief_json.hpp"
#include "formats/result.hpp"

namespace glidewright {

/// On A4, in black and greys; says what the HTML report says. The same debrief gives the same bytes.
Result<std::string> debrief_report_pdf(const DebriefedLog& debriefed);

enum class CardSize { a5, phone };

/// On one page: A5 with rulers to mark by hand, or as high as needed and as wide as a phone.
Result<std::string> plan_card_pdf(const Brief& brief, const std::vector<CueAtWind>& other_winds,
                                  CardSize size);

}  // namespace glidewright

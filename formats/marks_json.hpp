#pragma once
// Marks of a flight: what somebody who was there adds to its log.

#include <string_view>
#include <vector>

#include "engine/debrief/marks.hpp"
#include "formats/json_write.hpp"
#include "formats/result.hpp"

namespace glidewright {

/// Reads `glidewright.marks/1`; unknown fields and an attempt marked twice are errors.
Result<std::vector<AttemptMarks>> read_marks_json(std::string_view bytes, std::string_view name);

/// "2:+120" or "2:-40~30": attempt, feet past the point and, after "~", how sure (one standard deviation,
/// ft).
Result<AttemptMarks> read_seen_text(std::string_view text);

/// Adds marks to those of the same attempt; none is said twice.
Result<std::vector<AttemptMarks>> joined(std::vector<AttemptMarks> marks,
                                         const std::vector<AttemptMarks>& more);

/// "student", "student_prompted", "instructor", "controls_taken"

Json marks_to_json(const AttemptMarks& marks);

}  // namespace glidewright

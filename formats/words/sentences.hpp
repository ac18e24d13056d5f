#pragma once
// Sentences that terminal and report share.

#include <string>
#include <string_view>
#include <vector>

#include "engine/debrief/debrief.hpp"

namespace glidewright {

/// Said once wherever something is planned.
std::string safety_sentence();

/// What must hold at the gate.
std::string gate_conditions(const Plan& plan);

/// When to slip; empty where the technique has no slip.
std::string slip_rule(const PlanRequest& request);

/// "crab 6° allowed for"
std::string crab_words(const Cue& cue);

/// Said once wherever something is debriefed.
std::string debrief_safety_sentence();

/// "meets", "this log cannot tell", ...
std::string verdict_words(Verdict verdict);

/// "Club box, version 2, set by the chief instructor"; a published standard by its name alone.
std::string standard_words(const Standard& standard);

/// "Speed on final does not meet: 72 ± 3 kt ..."; empty where the standard limits none.
std::string speed_sentence(const Grade& grade);

/// The verdicts beside the first, a line for each kind; what was not graded is said too.
std::vector<std::string> other_verdicts(const std::vector<Grade>& grades, const Grade& first);

/// Who flew, what was forced, the note, and by whom it was marked; empty where nothing of it was marked.
std::string marks_sentence(const AttemptMarks& marks);

/// What was ticked of what no log sees: "checks done, aligned, no drift"; empty where nothing was.
std::string checklist_words(const Checklist& checklist);
/// What was not, as asked.
std::vector<std::string> left_to_tick(const Checklist& checklist);

/// It touched down outside the box, or went around.
bool missed(const AttemptDebrief& one, Box box);
/// "Too high for the path alone from 29 s past abeam (770 ft), ..."; empty where the landing was in the box,
/// or nothing was lost on the way.
std::string last_chances_sentence(const AttemptDebrief& one, Box box);

/// Without its folders.
std::string_view file_name_of(std::string_view path);

}  // namespace glidewright

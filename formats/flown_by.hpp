#pragma once
// Who flew, as files name it and as people say it.

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "engine/progress/flown_by.hpp"

namespace glidewright {

/// "student_prompted".
std::string flown_by_name(FlownBy flown_by);
std::optional<FlownBy> flown_by_named(std::string_view name);
/// What may be said anew, by name; "not_alone" says too little for that.
const std::vector<std::string>& flown_by_choices();
/// The same where it may be said anew; else none.
std::optional<FlownBy> flown_by_said(std::string_view name);
/// "student, student_prompted, instructor or controls_taken".
std::string flown_by_expected();

/// "flown by the student with prompts".
std::string flown_by_words(FlownBy flown_by);

}  // namespace glidewright

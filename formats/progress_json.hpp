#pragma once
// What a student's attempts have in common and what to practise, as the part "progress" of
// `glidewright.record/1`.

#include "engine/progress/practice.hpp"
#include "formats/json_write.hpp"

namespace glidewright {

Json progress_to_json(const StudentProgress& progress);

}  // namespace glidewright

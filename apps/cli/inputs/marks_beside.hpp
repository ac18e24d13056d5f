#pragma once

#include <string>

namespace glidewright {

/// What was seen and who flew, in a file of the log's name with ".marks.json" after it; empty where there is
/// none.
std::string marks_beside(const std::string& log);

}  // namespace glidewright

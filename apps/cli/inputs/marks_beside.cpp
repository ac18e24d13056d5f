#include "apps/cli/inputs/marks_beside.hpp"

#include <filesystem>

namespace glidewright {

std::string marks_beside(const std::string& log) {
  const std::string file = log + ".marks.json";
  std::error_code ignored;
  return std::filesystem::is_regular_file(file, ignored) ? file : std::string();
}

}  // namespace glidewright

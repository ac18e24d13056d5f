#pragma once

#include <fstream>
#include <sstream>
#include <string>

namespace glidewright {

inline std::string test_file(const std::string& path_below_data) {
  std::ifstream file(std::string(GLIDEWRIGHT_TEST_DATA) + "/" + path_below_data, std::ios::binary);
  std::stringstream content;
  content << file.rdbuf();
  return content.str();
}

}  // namespace glidewright

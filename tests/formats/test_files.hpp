#pragma once

#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

#include "tests/where.hpp"

namespace glidewright {

inline std::string bytes_of(const std::filesystem::path& path) {
  std::ifstream file(path, std::ios::binary);
  std::stringstream content;
  content << file.rdbuf();
  return content.str();
}

/// A file below tests/data.
inline std::string test_file(const std::string& path) {
  return bytes_of(std::filesystem::path(where::test_data()) / path);
}

/// A file below data/, as delivered.
inline std::string delivered_file(const std::string& path) {
  return bytes_of(std::filesystem::path(where::data()) / path);
}

/// All files of one folder below data/, as delivered.
inline std::vector<std::filesystem::path> delivered_files(const std::string& folder) {
  std::vector<std::filesystem::path> paths;
  for (const auto& entry :
       std::filesystem::directory_iterator(std::filesystem::path(where::data()) / folder)) {
    paths.push_back(entry.path());
  }
  return paths;
}

/// `text` with its first `from` made `to`; fails loudly by returning nothing where it is not there.
inline std::string replaced(std::string text, const std::string& from, const std::string& to) {
  const auto at = text.find(from);
  return at == std::string::npos ? std::string() : text.replace(at, from.size(), to);
}

}  // namespace glidewright

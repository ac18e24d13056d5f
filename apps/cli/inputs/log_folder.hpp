#pragma once

#include <string>
#include <vector>

#include "formats/result.hpp"

namespace glidewright {

bool is_folder(const std::string& path);

/// The files named, and of each folder all regular files below it, hidden ones left out; sorted within a
/// folder, each once. An error where a folder cannot be read.
Result<std::vector<std::string>> files_below(const std::vector<std::string>& paths);

}  // namespace glidewright

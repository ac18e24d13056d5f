#include "apps/cli/inputs/log_folder.hpp"

#include <algorithm>
#include <filesystem>
#include <set>

namespace glidewright {
namespace {

namespace fs = std::filesystem;

bool is_hidden(const fs::path& path) {
  const auto name = path.filename().string();
  return !name.empty() && name.front() == '.';
}

std::optional<Error> add_files_of(const std::string& folder, std::vector<std::string>& files) {
  std::error_code failed;
  fs::recursive_directory_iterator entry(folder, fs::directory_options::skip_permission_denied, failed);
  const fs::recursive_directory_iterator end;
  while (!failed && entry != end) {
    std::error_code ignored;
    if (is_hidden(entry->path())) {
      entry.disable_recursion_pending();
    } else if (entry->is_regular_file(ignored)) {
      files.push_back(entry->path().string());
    }
    entry.increment(failed);
  }
  if (failed) return Error{folder + ": the folder cannot be read: " + failed.message()};
  return std::nullopt;
}

}  // namespace

bool is_folder(const std::string& path) {
  std::error_code ignored;
  return fs::is_directory(path, ignored);
}

Result<std::vector<std::string>> files_below(const std::vector<std::string>& paths) {
  std::vector<std::string> files;
  std::set<std::string> seen;
  for (const auto& path : paths) {
    std::vector<std::string> some;
    if (!is_folder(path)) {
      some.push_back(path);
    } else if (const auto failed = add_files_of(path, some)) {
      return *failed;
    }
    std::sort(some.begin(), some.end());
    for (auto& file : some) {
      if (seen.insert(file).second) files.push_back(std::move(file));
    }
  }
  return files;
}

}  // namespace glidewright

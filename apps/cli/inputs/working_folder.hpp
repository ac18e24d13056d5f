#pragma once

#include <filesystem>
#include <string>

#include "formats/uid.hpp"

namespace glidewright {

/// A folder that goes when it is let go.
class WorkingFolder {
 public:
  WorkingFolder() : path_(std::filesystem::temp_directory_path() / ("glidewright-" + new_uid())) {
    std::filesystem::create_directory(path_);
    std::filesystem::permissions(path_, std::filesystem::perms::owner_all);
  }
  ~WorkingFolder() {
    std::error_code ignored;
    std::filesystem::remove_all(path_, ignored);
  }
  WorkingFolder(const WorkingFolder&) = delete;
  WorkingFolder& operator=(const WorkingFolder&) = delete;
  std::string file(const std::string& name) const { return (path_ / name).string(); }

 private:
  std::filesystem::path path_;
};

}  // namespace glidewright

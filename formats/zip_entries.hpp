#pragma once
// One file out of a zip archive, piece by piece. The program asks libzip (zip_entries.cpp); the page has its
// own (web/engine).

#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace glidewright {

class ZipEntries {
 public:
  enum class Opened { yes, locked, unreadable };

  /// The bytes must stay where they are as long as this is used.
  explicit ZipEntries(std::string_view bytes);
  ~ZipEntries();
  ZipEntries(const ZipEntries&) = delete;
  ZipEntries& operator=(const ZipEntries&) = delete;

  /// None where this is no zip archive, or a damaged one. Folders have names too, ending in "/".
  const std::optional<std::vector<std::string>>& names() const;
  Opened open(std::size_t index);
  /// The next bytes of what was opened, at most 64 KB, good until the next call; empty at its end, none where
  /// it is damaged.
  std::optional<std::string_view> next();

 private:
  struct State;
  std::unique_ptr<State> state_;
};

}  // namespace glidewright

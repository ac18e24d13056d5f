#pragma once
// Lines of a text, one at a time, whichever way they end.

#include <cstddef>
#include <optional>
#include <string_view>

namespace glidewright {

/// A line without its end, and the byte at which it begins.
struct TextLine {
  std::string_view text;
  std::size_t offset = 0;
};

/// Ends: "\n", "\r\n" or "\r"; blanks at a line's end are cut off.
class TextLines {
 public:
  explicit TextLines(std::string_view bytes) : bytes_(bytes) {}

  std::optional<TextLine> next() {
    if (at_ >= bytes_.size()) return std::nullopt;
    const std::size_t begin = at_;
    std::size_t end = bytes_.find_first_of("\r\n", begin);
    if (end == std::string_view::npos) end = bytes_.size();
    at_ = end + 1;
    if (end + 1 < bytes_.size() && bytes_[end] == '\r' && bytes_[end + 1] == '\n') ++at_;
    while (end > begin && (bytes_[end - 1] == ' ' || bytes_[end - 1] == '\t')) --end;
    return TextLine{bytes_.substr(begin, end - begin), begin};
  }

 private:
  std::string_view bytes_;
  std::size_t at_ = 0;
};

}  // namespace glidewright

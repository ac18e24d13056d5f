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

/// Ends: "\n" or "\r\n"; "\r" where the text has no "\n". Blanks at a line's end are cut off.
class TextLines {
 public:
  explicit TextLines(std::string_view bytes)
      : bytes_(bytes), end_mark_(bytes.find('\n') == std::string_view::npos ? '\r' : '\n') {}

  std::optional<TextLine> next() {
    if (at_ >= bytes_.size()) return std::nullopt;
    const std::size_t begin = at_;
    std::size_t end = bytes_.find(end_mark_, begin);
    if (end == std::string_view::npos) end = bytes_.size();
    at_ = end + 1;
    const auto is_blank = [](char c) { return c == ' ' || c == '\t' || c == '\r'; };
    while (end > begin && is_blank(bytes_[end - 1])) --end;
    return TextLine{bytes_.substr(begin, end - begin), begin};
  }

 private:
  std::string_view bytes_;
  char end_mark_;
  std::size_t at_ = 0;
};

}  // namespace glidewright

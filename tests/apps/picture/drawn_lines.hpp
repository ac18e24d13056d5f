#pragma once
// What a terminal shows of a drawing: its lines, and how many columns they take up.

#include <algorithm>
#include <string>
#include <vector>

namespace glidewright {

inline std::vector<std::string> drawn_lines(const std::string& text) {
  std::vector<std::string> lines;
  std::size_t at = 0;
  for (std::size_t end = 0; (end = text.find('\n', at)) != std::string::npos; at = end + 1) {
    lines.push_back(text.substr(at, end - at));
  }
  return lines;
}

/// Code points: every sign of these drawings is one column wide.
inline int drawn_columns(const std::string& line) {
  return static_cast<int>(std::count_if(
      line.begin(), line.end(), [](char byte) { return (static_cast<unsigned char>(byte) & 0xc0) != 0x80; }));
}

inline int widest_line(const std::string& text) {
  int widest = 0;
  for (const auto& line : drawn_lines(text)) widest = std::max(widest, drawn_columns(line));
  return widest;
}

/// Without "\x1b[...m".
inline std::string without_colour(const std::string& text) {
  std::string out;
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (text[i] == '\x1b') {
      i = text.find('m', i);
    } else {
      out += text[i];
    }
  }
  return out;
}

inline bool is_ascii(const std::string& text) {
  return std::all_of(text.begin(), text.end(),
                     [](char byte) { return static_cast<unsigned char>(byte) < 0x80; });
}

}  // namespace glidewright

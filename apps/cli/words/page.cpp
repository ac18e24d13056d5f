#include "apps/cli/words/page.hpp"

#include <algorithm>
#include <array>
#include <cstddef>
#include <utility>

namespace glidewright {
namespace {

/// Plain substitutes. Those used in pictures and tables take as many columns as the sign itself; " ± " keeps
/// its three, so that what stands to the right stays in line.
constexpr std::array<std::pair<std::string_view, std::string_view>, 31> k_substitutes{{
    {" ± ", " +-"}, {"±", "+-"}, {"°C", "C"}, {"°", " deg"}, {"−", "-"}, {"–", "-"}, {"—", "-"},  {"·", "|"},
    {"≤", "<="},    {"≥", ">="}, {"×", "x"},  {"…", "..."},  {"’", "'"}, {"‘", "'"}, {"“", "\""}, {"”", "\""},
    {"●", "*"},     {"►", ">"},  {"◁", "<"},  {"∧", "^"},    {"○", "o"}, {"█", "#"}, {"▒", "/"},  {"─", "-"},
    {"╌", "."},     {"├", "|"},  {"┤", "|"},  {"┊", ":"},    {"┴", "+"}, {"»", ">"}, {"«", "<"},
}};

bool is_ink(char c) {
  return c >= ink::k_plain && c <= ink::k_faint;
}

std::string_view escape_sequence(char mark) {
  switch (mark) {
    case ink::k_long:
      return "\x1b[0;33m";
    case ink::k_short:
      return "\x1b[0;36m";
    case ink::k_plan:
      return "\x1b[0;32m";
    case ink::k_strong:
      return "\x1b[0;1m";
    case ink::k_faint:
      return "\x1b[0;2m";
    default:
      return "\x1b[0m";
  }
}

/// Length of the UTF-8 sequence at the front; 0 for what is none.
std::size_t sequence_length(std::string_view text) {
  const auto lead = static_cast<unsigned char>(text.front());
  const std::size_t length = lead < 0x80                   ? 1
                             : lead >= 0xf0 && lead < 0xf5 ? 4
                             : lead >= 0xe0                ? 3
                             : lead >= 0xc2                ? 2
                                                           : 0;
  if (length == 0 || lead >= 0xf5 || length > text.size()) return 0;
  for (std::size_t i = 1; i < length; ++i) {
    if ((static_cast<unsigned char>(text[i]) & 0xc0) != 0x80) return 0;
  }
  return length;
}

/// C0 and C1 controls, which a terminal would obey.
bool is_control(std::string_view sequence) {
  const auto lead = static_cast<unsigned char>(sequence[0]);
  if (sequence.size() == 1) return (lead < 0x20 && lead != '\n') || lead == 0x7f;
  return lead == 0xc2 && static_cast<unsigned char>(sequence[1]) < 0xa0;
}

const std::pair<std::string_view, std::string_view>* substitute(std::string_view text) {
  for (const auto& pair : k_substitutes) {
    if (text.substr(0, pair.first.size()) == pair.first) return &pair;
  }
  return nullptr;
}

std::string in_charset(std::string_view text, Charset charset) {
  std::string out;
  while (!text.empty()) {
    std::size_t length = sequence_length(text);
    if (is_ink(text.front())) {
      out += text.front();
      length = 1;
    } else if (length == 0 || is_control(text.substr(0, length))) {
      out += '?';
      length = std::max<std::size_t>(length, 1);
    } else if (charset == Charset::utf8 || (length == 1 && text.substr(0, 2) != " \xc2")) {
      out += text.substr(0, length);
    } else if (const auto* plain = substitute(text)) {
      out += plain->second;
      length = plain->first.size();
    } else {
      out += length == 1 ? text.front() : '?';
    }
    text.remove_prefix(length);
  }
  return out;
}

}  // namespace

std::string inked(char mark, std::string_view text) {
  return mark + std::string(text) + ink::k_plain;
}

std::string printed(std::string_view text, const Page& page) {
  std::string out;
  for (const char c : in_charset(text, page.charset)) {
    if (!is_ink(c)) {
      out += c;
    } else if (page.colour == Colour::ansi) {
      out += escape_sequence(c);
    }
  }
  return out;
}

int columns(std::string_view text) {
  int count = 0;
  for (const char c : text) {
    const bool continues = (static_cast<unsigned char>(c) & 0xc0) == 0x80;
    if (!continues && !is_ink(c)) ++count;
  }
  return count;
}

std::string padded_right(std::string_view text, int width) {
  const int missing = std::max(0, width - columns(text));
  return std::string(text) + std::string(static_cast<std::size_t>(missing), ' ');
}

std::string padded_left(std::string_view text, int width) {
  const int missing = std::max(0, width - columns(text));
  return std::string(static_cast<std::size_t>(missing), ' ') + std::string(text);
}

std::string wrapped(std::string_view text, Indent indent, const Page& page) {
  const std::string shown = in_charset(text, page.charset);
  std::string out;
  std::string line(static_cast<std::size_t>(indent.first), ' ');
  bool line_is_empty = true;
  std::size_t at = 0;
  while (at < shown.size()) {
    const std::size_t end = std::min(shown.find_first_of(" \n", at), shown.size());
    const std::string_view word(shown.data() + at, end - at);
    if (!word.empty()) {
      if (!line_is_empty && columns(line) + 1 + columns(word) > page.width) {
        out += line + '\n';
        line.assign(static_cast<std::size_t>(indent.next), ' ');
        line_is_empty = true;
      }
      if (!line_is_empty) line += ' ';
      line += word;
      line_is_empty = false;
    }
    at = end + 1;
  }
  return out + line + '\n';
}

}  // namespace glidewright

#include "apps/cli/picture/sheet.hpp"

#include <algorithm>
#include <array>
#include <cstddef>
#include <utility>

#include "apps/cli/words/page.hpp"

namespace glidewright {
namespace {

constexpr int k_narrowest = 60;
constexpr int k_widest = 110;

/// Signs of the drawings and of numbers; every one of them is one column wide in both character sets.
constexpr std::array<std::pair<char32_t, char32_t>, 24> k_plain_signs{{
    {U'●', U'O'}, {U'►', U'>'}, {U'◁', U'<'}, {U'∧', U'^'},  {U'○', U'o'}, {U'█', U'#'},
    {U'▒', U'%'}, {U'░', U':'}, {U'┊', U':'}, {U'─', U'-'},  {U'━', U'='}, {U'╌', U'.'},
    {U'├', U'|'}, {U'┤', U'|'}, {U'│', U'|'}, {U'┬', U'+'},  {U'┳', U'+'}, {U'→', U'>'},
    {U'←', U'<'}, {U'−', U'-'}, {U'–', U'-'}, {U'’', U'\''}, {U'×', U'x'}, {U'·', U'|'},
}};

/// Signs of text whose substitutes are longer.
constexpr std::array<std::pair<char32_t, std::u32string_view>, 4> k_plain_words{{
    {U'±', U"+-"},
    {U'°', U" deg"},
    {U'≤', U"<="},
    {U'≥', U">="},
}};

constexpr char32_t k_no_break = U'\u00a0';

bool is_control(char32_t sign) {
  return sign < 0x20 || (sign >= 0x7f && sign < 0xa0);
}

char32_t plain_sign(char32_t sign) {
  if (sign < 0x7f || sign == k_no_break) return sign;
  for (const auto& [from, to] : k_plain_signs) {
    if (from == sign) return to;
  }
  return U'?';
}

/// Signs of UTF-8 text; "?" for each byte that belongs to none.
std::u32string decoded(std::string_view utf8) {
  std::u32string signs;
  while (!utf8.empty()) {
    const auto lead = static_cast<unsigned char>(utf8.front());
    const std::size_t length = lead < 0x80 ? 1 : lead >= 0xf0 ? 4 : lead >= 0xe0 ? 3 : lead >= 0xc2 ? 2 : 0;
    bool is_whole = length > 0 && length <= utf8.size() && lead < 0xf5;
    char32_t sign = length == 1 ? lead : lead & (0x7fu >> length);
    for (std::size_t i = 1; is_whole && i < length; ++i) {
      const auto next = static_cast<unsigned char>(utf8[i]);
      is_whole = (next & 0xc0) == 0x80;
      sign = (sign << 6) | (next & 0x3f);
    }
    signs += is_whole ? sign : U'?';
    utf8.remove_prefix(is_whole ? length : 1);
  }
  return signs;
}

void append_utf8(std::string& out, char32_t sign) {
  const auto tail = [&](int shift) { out += static_cast<char>(0x80u | ((sign >> shift) & 0x3fu)); };
  if (sign < 0x80) {
    out += static_cast<char>(sign);
  } else if (sign < 0x800) {
    out += static_cast<char>(0xc0u | (sign >> 6));
    tail(0);
  } else if (sign < 0x10000) {
    out += static_cast<char>(0xe0u | (sign >> 12));
    tail(6);
    tail(0);
  } else {
    out += static_cast<char>(0xf0u | (sign >> 18));
    tail(12);
    tail(6);
    tail(0);
  }
}

std::string_view ink_mark(Ink ink) {
  switch (ink) {
    case Ink::long_of_box:
      return {&ink::k_long, 1};
    case Ink::short_of_box:
      return {&ink::k_short, 1};
    case Ink::faint:
      return {&ink::k_faint, 1};
    case Ink::plain:
      break;
  }
  return {&ink::k_plain, 1};
}

std::string_view escape_sequence(Ink ink) {
  switch (ink) {
    case Ink::long_of_box:
      return "\x1b[38;5;208m";
    case Ink::short_of_box:
      return "\x1b[36m";
    case Ink::faint:
      return "\x1b[2m";
    case Ink::plain:
      break;
  }
  return "";
}

void append_lines(std::vector<std::u32string>& lines, std::u32string_view text, std::size_t limit) {
  while (!text.empty()) {
    std::size_t length = std::min(limit, text.size());
    if (length < text.size()) {
      const std::size_t blank = text.rfind(U' ', length);
      if (blank != std::u32string_view::npos && blank > 0) length = blank;
    }
    lines.emplace_back(text.substr(0, length));
    text.remove_prefix(length);
    if (!text.empty() && text.front() == U' ') text.remove_prefix(1);
  }
}

}  // namespace

Sheet::Sheet(const PictureStyle& style)
    : style_(style), columns_(std::clamp(style.columns, k_narrowest, k_widest)) {}

void Sheet::put(int row, int column, char32_t sign, Ink ink) {
  if (row < 0 || column < 0 || column >= columns_) return;
  while (rows() <= row) cells_.emplace_back(static_cast<std::size_t>(columns_));
  const bool is_ascii = style_.characters == PictureStyle::Characters::ascii;
  if (sign == k_no_break) sign = U' ';
  if (is_ascii) sign = plain_sign(sign);
  cells_[static_cast<std::size_t>(row)][static_cast<std::size_t>(column)] = {sign, ink};
}

void Sheet::fill(int row, int from, int to, char32_t sign, Ink ink) {
  for (int column = from; column <= to; ++column) put(row, column, sign, ink);
}

void Sheet::write(int row, int column, std::u32string_view text, Ink ink) {
  for (const char32_t sign : text) put(row, column++, sign, ink);
}

std::u32string Sheet::characters(std::string_view utf8) const {
  std::u32string out;
  for (const char32_t sign : decoded(utf8)) {
    const auto word = std::find_if(k_plain_words.begin(), k_plain_words.end(),
                                   [&](const auto& pair) { return pair.first == sign; });
    if (is_control(sign)) {
      out += U'?';
    } else if (style_.characters == PictureStyle::Characters::unicode) {
      out += sign;
    } else if (word != k_plain_words.end()) {
      out += word->second;
    } else {
      out += plain_sign(sign);
    }
  }
  return out;
}

std::vector<std::u32string> Sheet::wrapped(std::string_view utf8, int width) const {
  const std::u32string text = characters(utf8);
  const auto limit = static_cast<std::size_t>(std::max(width, 1));
  if (text.size() <= limit) return {text};
  std::vector<std::u32string> lines;
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t end = std::min(text.find(U"  ", at), text.size());
    append_lines(lines, std::u32string_view(text).substr(at, end - at), limit);
    at = end + 2;
  }
  return lines;
}

std::string Sheet::line(const std::vector<Cell>& cells) const {
  std::size_t count = cells.size();
  while (count > 0 && cells[count - 1].sign == U' ') --count;
  std::string out;
  Ink ink = Ink::plain;
  const auto change_ink = [&](Ink next) {
    if (style_.colour == PictureStyle::Colour::off || next == ink) return;
    if (style_.colour == PictureStyle::Colour::marked) {
      out += ink_mark(next);
    } else {
      if (ink != Ink::plain) out += "\x1b[0m";
      out += escape_sequence(next);
    }
    ink = next;
  };
  for (std::size_t i = 0; i < count; ++i) {
    change_ink(cells[i].ink);
    append_utf8(out, cells[i].sign);
  }
  change_ink(Ink::plain);
  return out + '\n';
}

std::string Sheet::text() const {
  std::string out;
  for (const auto& row : cells_) out += line(row);
  return out;
}

}  // namespace glidewright

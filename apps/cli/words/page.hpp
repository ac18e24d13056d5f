#pragma once
// What text is written on: how wide, in which characters, with or without colour.
//
// Everything is composed in UTF-8 with ink marks; `printed` makes of it what this page can show. So there is
// one place where foreign text loses its control characters and where signs get their plain substitutes.

#include <string>
#include <string_view>

namespace glidewright {

enum class Charset { utf8, ascii };
enum class Colour { none, ansi };

struct Page {
  int width = 80;  ///< columns, 60 to 110
  Charset charset = Charset::utf8;
  Colour colour = Colour::none;
};

/// Marks inside a text that change the ink until the next one. Colour never says anything that shape or words
/// do not say too.
namespace ink {
inline constexpr char k_plain = '\x01';
inline constexpr char k_long = '\x02';
inline constexpr char k_short = '\x03';
inline constexpr char k_plan = '\x04';
inline constexpr char k_strong = '\x05';
inline constexpr char k_faint = '\x06';
}  // namespace ink

/// The text in one ink.
std::string inked(char mark, std::string_view text);

/// The text as this page shows it: ink as escape sequences or not at all, signs in its characters, control
/// characters other than the line end as "?".
std::string printed(std::string_view text, const Page& page);

/// Columns that the text takes up: ink marks none, every other character one.
int columns(std::string_view text);

std::string padded_right(std::string_view text, int width);
std::string padded_left(std::string_view text, int width);

/// Text broken at blanks into lines of at most the page's width, each indented; ends with a line end.
struct Indent {
  int first = 0;
  int next = 0;
};
std::string wrapped(std::string_view text, Indent indent, const Page& page);

}  // namespace glidewright

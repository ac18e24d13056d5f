#pragma once
// A grid of characters to draw on, each with its ink. It grows downwards; what lies left or right of it is
// lost.

#include <string>
#include <string_view>
#include <vector>

#include "apps/cli/picture/picture_style.hpp"

namespace glidewright {

enum class Ink { plain, faint, long_of_box, short_of_box };

class Sheet {
 public:
  explicit Sheet(const PictureStyle& style);

  int columns() const { return columns_; }
  int rows() const { return static_cast<int>(cells_.size()); }

  /// One sign, replaced by its plain substitute in an ASCII picture.
  void put(int row, int column, char32_t sign, Ink ink = Ink::plain);
  /// The same sign in columns from..to, both included.
  void fill(int row, int from, int to, char32_t sign, Ink ink = Ink::plain);
  /// Text in this picture's characters, to the right of the column.
  void write(int row, int column, std::u32string_view text, Ink ink = Ink::plain);

  /// UTF-8 in the characters of this picture: signs with substitutes of one or two characters, "?" for
  /// control characters and for what has no substitute. Its size is its width in columns.
  std::u32string characters(std::string_view utf8) const;
  /// The same in lines of at most so many columns, at least one line: as it is where it fits, else broken at
  /// each double blank and, where that is not enough, at single ones; never at a no-break space.
  std::vector<std::u32string> wrapped(std::string_view utf8, int width) const;

  /// All rows in UTF-8, no blanks at their ends, each with a line end.
  std::string text() const;

 private:
  struct Cell {
    char32_t sign = U' ';
    Ink ink = Ink::plain;
  };
  std::string line(const std::vector<Cell>& cells) const;

  PictureStyle style_;
  int columns_;
  std::vector<std::vector<Cell>> cells_;
};

}  // namespace glidewright

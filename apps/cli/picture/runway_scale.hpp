#pragma once
// The scale that the ruler and the ledger share: feet of runway past the touchdown point, and where they lie
// on a sheet. Left of it a column of numbers, right of it a column of words.

#include <string>
#include <vector>

#include "apps/cli/picture/sheet.hpp"
#include "engine/plan/plan.hpp"

namespace glidewright {

/// A place on the runway with its 95 % interval, ft past the touchdown point; all finite.
struct RunwayPlace {
  double along_ft = 0.0;
  double low95_ft = 0.0;
  double high95_ft = 0.0;
};

/// How an attempt ended, as far as the drawing needs to know.
enum class PlaceKind {
  landed,
  went_around,  ///< the place is where it was heading
};

struct RunwayScale {
  double low_ft = -500.0;
  double high_ft = 1500.0;
  int first_column = 0;
  int last_column = 0;
  int words_column = 0;  ///< of the words to the right
  int words_width = 0;

  /// Nearest column; the end columns for what lies beyond.
  int column_of(double along_ft) const;
  bool reaches(double along_ft) const { return along_ft >= low_ft && along_ft <= high_ft; }
};

/// The ruler's scale, −500 to +1,500 ft: 63 ft a column on 60 columns, 50 on 80, 33 on 100 and more.
RunwayScale ruler_scale(const Sheet& sheet);
/// The same columns, with 500 ft more at both ends until all of these lie within.
RunwayScale scale_around(const Sheet& sheet, const std::vector<double>& along_ft);

/// Column of numbers: the text ends one blank before the scale.
void write_left_of_scale(Sheet& sheet, int row, const RunwayScale& scale, const std::string& utf8);
/// Column of words, in as many rows as it takes from this one on; how many.
int write_right_of_scale(Sheet& sheet, int row, const RunwayScale& scale, const std::string& utf8);

/// Best guess in its shape (in the box, long, short, went around) on its interval. What lies beyond the scale
/// is cut with an arrow; a best guess beyond it is said as a number.
void draw_place(Sheet& sheet, int row, const RunwayScale& scale, const RunwayPlace& place, PlaceKind kind,
                Box box);
/// The interval alone.
void draw_interval(Sheet& sheet, int row, const RunwayScale& scale, const RunwayPlace& place, PlaceKind kind,
                   Ink ink);

/// " ± 140", or " (+480 to +820)" where it is lopsided; does not break across lines after the sign.
std::string interval_words(const RunwayPlace& place);
/// "+290 ± 140".
std::string place_words(const RunwayPlace& place);

/// Axis with the box as a heavy bar, the numbers under it, and what they are. Two rows.
void draw_axis(Sheet& sheet, int row, const RunwayScale& scale, Box box);

}  // namespace glidewright

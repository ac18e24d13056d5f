#include "apps/cli/picture/runway_scale.hpp"

#include <algorithm>
#include <cmath>

#include "formats/words/numbers.hpp"

namespace glidewright {
namespace {

/// "12 10:12" and a blank.
constexpr int k_first_column = 9;

/// So that from 80 columns on a column is a round number of feet at the usual widths, and the words keep room
/// for an interval and a verdict.
int scale_intervals(int columns) {
  return columns <= 80 ? 32 + (columns - 60) * 8 / 20 : std::min(columns - 40, 60);
}

Ink ink_of(double along_ft, Box box) {
  if (along_ft > box.high_ft) return Ink::long_of_box;
  if (along_ft < box.low_ft) return Ink::short_of_box;
  return Ink::plain;
}

char32_t shape_of(double along_ft, PlaceKind kind, Box box) {
  if (kind == PlaceKind::went_around) return U'∧';
  // Not U+25B6, which some terminals draw as a picture two columns wide.
  if (along_ft > box.high_ft) return U'►';
  return along_ft < box.low_ft ? U'◁' : U'●';
}

/// A best guess that the scale does not reach: said at the edge.
void write_beyond(Sheet& sheet, int row, const RunwayScale& scale, double along_ft, PlaceKind kind, Ink ink) {
  const std::string shape = kind == PlaceKind::went_around ? "∧ " : "";
  if (along_ft > scale.high_ft) {
    const auto text = sheet.characters(" " + shape + signed_feet(along_ft) + " →");
    sheet.write(row, scale.last_column + 1 - static_cast<int>(text.size()), text, ink);
  } else {
    sheet.write(row, scale.first_column, sheet.characters("← " + shape + signed_feet(along_ft) + " "), ink);
  }
}

/// Numbers under the axis, the more important first.
std::vector<double> numbers_on_axis(const RunwayScale& scale, Box box) {
  constexpr double k_most_steps = 8.0;
  const double step_ft = 500.0 * std::ceil((scale.high_ft - scale.low_ft) / 500.0 / k_most_steps);
  std::vector<double> numbers{scale.low_ft, scale.high_ft, 0.0, box.high_ft, box.low_ft};
  for (double along_ft = scale.low_ft + step_ft; along_ft < scale.high_ft; along_ft += step_ft) {
    numbers.push_back(along_ft);
  }
  return numbers;
}

}  // namespace

int RunwayScale::column_of(double along_ft) const {
  const double share = (std::clamp(along_ft, low_ft, high_ft) - low_ft) / (high_ft - low_ft);
  return first_column + static_cast<int>(std::lround(share * (last_column - first_column)));
}

RunwayScale ruler_scale(const Sheet& sheet) {
  RunwayScale scale;
  scale.first_column = k_first_column;
  scale.last_column = k_first_column + scale_intervals(sheet.columns());
  scale.words_column = scale.last_column + 2;
  scale.words_width = sheet.columns() - scale.words_column;
  return scale;
}

RunwayScale scale_around(const Sheet& sheet, const std::vector<double>& along_ft) {
  constexpr double k_step_ft = 500.0;
  RunwayScale scale = ruler_scale(sheet);
  double steps = 0.0;
  for (const double one : along_ft) {
    steps = std::max(
        {steps, std::ceil((one - scale.high_ft) / k_step_ft), std::ceil((scale.low_ft - one) / k_step_ft)});
  }
  scale.low_ft -= steps * k_step_ft;
  scale.high_ft += steps * k_step_ft;
  return scale;
}

void write_left_of_scale(Sheet& sheet, int row, const RunwayScale& scale, const std::string& utf8) {
  const auto text = sheet.characters(utf8);
  sheet.write(row, std::max(0, scale.first_column - 1 - static_cast<int>(text.size())), text);
}

int write_right_of_scale(Sheet& sheet, int row, const RunwayScale& scale, const std::string& utf8) {
  const auto lines = sheet.wrapped(utf8, scale.words_width);
  for (const auto& line : lines) sheet.write(row++, scale.words_column, line);
  return static_cast<int>(lines.size());
}

std::string interval_words(const RunwayPlace& place) {
  return place_words(place).substr(signed_feet(place.along_ft).size());
}

std::string place_words(const RunwayPlace& place) {
  constexpr std::string_view k_plus_minus = "± ";
  std::string words = feet_with_interval(place.along_ft, place.low95_ft, place.high95_ft);
  const std::size_t at = words.find(k_plus_minus);
  if (at != std::string::npos) words.replace(at, k_plus_minus.size(), "±\u00a0");
  return words;
}

void draw_interval(Sheet& sheet, int row, const RunwayScale& scale, const RunwayPlace& place, PlaceKind kind,
                   Ink ink) {
  if (place.low95_ft > scale.high_ft || place.high95_ft < scale.low_ft) return;
  const int from = scale.column_of(place.low95_ft);
  const int to = scale.column_of(place.high95_ft);
  sheet.fill(row, from, to, kind == PlaceKind::went_around ? U'╌' : U'─', ink);
  if (kind == PlaceKind::landed) {
    sheet.put(row, from, U'├', ink);
    sheet.put(row, to, U'┤', ink);
  }
  if (place.low95_ft < scale.low_ft) sheet.put(row, scale.first_column, U'←', ink);
  if (place.high95_ft > scale.high_ft) sheet.put(row, scale.last_column, U'→', ink);
}

void draw_place(Sheet& sheet, int row, const RunwayScale& scale, const RunwayPlace& place, PlaceKind kind,
                Box box) {
  const Ink ink = ink_of(place.along_ft, box);
  draw_interval(sheet, row, scale, place, kind, ink);
  if (scale.reaches(place.along_ft)) {
    sheet.put(row, scale.column_of(place.along_ft), shape_of(place.along_ft, kind, box), ink);
  } else {
    write_beyond(sheet, row, scale, place.along_ft, kind, ink);
  }
}

void draw_axis(Sheet& sheet, int row, const RunwayScale& scale, Box box) {
  sheet.fill(row, scale.first_column, scale.last_column, U'─');
  // Where a number has a blank or the end of the row on both sides; the less important ones give way.
  std::vector<bool> is_taken(static_cast<std::size_t>(sheet.columns()) + 1, false);
  for (const double along_ft : numbers_on_axis(scale, box)) {
    if (!scale.reaches(along_ft)) continue;
    const int column = scale.column_of(along_ft);
    const auto text = sheet.characters(signed_feet(along_ft));
    const int size = static_cast<int>(text.size());
    const int start = column - (size - 1) / 2;
    const auto begin = is_taken.begin() + std::max(0, start - 1);
    const auto end = is_taken.begin() + std::min(start + size + 1, sheet.columns());
    if (std::find(begin, end, true) != end) continue;
    std::fill(is_taken.begin() + start, is_taken.begin() + start + size, true);
    sheet.put(row, column, U'┬');
    sheet.write(row + 1, start, text);
  }
  sheet.write(row, scale.words_column, sheet.characters("ft past the point"));
  // The number at the end of the axis reaches two columns into the words.
  sheet.write(row + 1, scale.words_column + 3, sheet.characters("bars 95 in 100"));
  if (box.high_ft < scale.low_ft || box.low_ft > scale.high_ft) return;
  sheet.fill(row, scale.column_of(box.low_ft), scale.column_of(box.high_ft), U'━');
}

}  // namespace glidewright

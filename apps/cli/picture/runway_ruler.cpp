#include "apps/cli/picture/runway_ruler.hpp"

namespace glidewright {
namespace {

std::string name_of(const RulerRow& row) {
  const std::string index = std::to_string(row.index);
  return (index.size() < 2 ? " " : "") + index + " " + row.time;
}

std::string words_for(const RulerRow& row) {
  std::string words;
  if (row.place) {
    if (row.kind == PlaceKind::went_around) words = "would have ";
    words += place_words(*row.place) + "\u00a0ft";
  }
  if (!words.empty() && !row.verdict.empty()) words += "  ";
  return words + row.verdict;
}

void shade_box(Sheet& sheet, int row, const RunwayScale& scale, Box box) {
  if (box.high_ft < scale.low_ft || box.low_ft > scale.high_ft) return;
  sheet.fill(row, scale.column_of(box.low_ft), scale.column_of(box.high_ft), U'░', Ink::faint);
}

/// First row below it.
int draw_attempt(Sheet& sheet, int row, const RunwayScale& scale, const RulerRow& attempt, Box box) {
  const int height = write_right_of_scale(sheet, row, scale, words_for(attempt));
  for (int i = 0; i < height; ++i) shade_box(sheet, row + i, scale, box);
  const auto name = sheet.characters(name_of(attempt));
  sheet.write(row, 0, std::u32string_view(name).substr(0, static_cast<std::size_t>(scale.first_column - 1)));
  if (attempt.place) draw_place(sheet, row, scale, *attempt.place, attempt.kind, box);
  return row + height;
}

}  // namespace

std::string draw_runway_ruler(const std::vector<RulerRow>& rows, Box box, const PictureStyle& style) {
  Sheet sheet(style);
  const RunwayScale scale = ruler_scale(sheet);
  int row = 0;
  if (rows.empty()) {
    for (int i = 0; i < 2; ++i) shade_box(sheet, row + i, scale, box);
    row += 2;
  }
  for (const RulerRow& attempt : rows) row = draw_attempt(sheet, row, scale, attempt, box);
  draw_axis(sheet, row, scale, box);
  if (rows.empty()) sheet.write(row + 2, 0, sheet.characters("No landing and no go-around to show."));
  return sheet.text();
}

}  // namespace glidewright

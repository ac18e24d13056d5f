#pragma once
// Rows of bars along one scale of feet, as parts of a page that flow with its width.

#include <string>
#include <string_view>
#include <vector>

#include "formats/report/bar_rows.hpp"

namespace glidewright::report {

/// Name of its class, and its outline in a square of 16 units whose middle is the place.
struct MarkDrawing {
  std::string_view css_class;
  std::string_view path;
};
MarkDrawing drawn_as(RowMark::Shape shape);

/// The rows and, under them, the scale.
std::string bars_html(const std::vector<BarRow>& rows, Box box, const FeetScale& scale);

}  // namespace glidewright::report

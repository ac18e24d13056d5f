#pragma once
// The bars of one row as an SVG of a given size, for paper.

#include <string>

#include "formats/report/bar_rows.hpp"
#include "formats/report/drawings.hpp"

namespace glidewright::report {

/// The box over the whole height, so that rows set one under the other make one stripe.
std::string track_svg(const BarRow& row, Box box, const FeetScale& scale, DrawingSize size);

/// The line under the rows with a tick at each of its marks; their numbers are the caller's.
std::string scale_svg(Box box, const FeetScale& scale, DrawingSize size);

}  // namespace glidewright::report

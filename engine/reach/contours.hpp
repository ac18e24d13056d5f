#pragma once
// The band seen from above: the places from which the box is out of reach at a given height.

#include <vector>

#include "engine/reach/band.hpp"

namespace glidewright {

/// Runway frame: not mirrored.
struct PlaceOnGround {
  double along_ft = 0.0;
  double cross_ft = 0.0;
};

/// Farther from the point than the line, on the pattern's side of the centreline, the box is out of reach
/// from this height whatever the heading: it lies below the lowest edge of each. Nearer than the line some
/// heading has it in reach, if the height can be spent: where a place is too near for that no line is drawn,
/// because a band that narrows towards the gate would leave a ring too thin to read.
struct ReachContour {
  double height_ft = 0.0;
  /// From before the landing direction's final to beyond the point; more than one where the edge jumps.
  std::vector<std::vector<PlaceOnGround>> lines;
};

/// At taught speed, wings level, nothing set; headings every 10 degrees from the landing direction to
/// downwind; a place every 3 degrees round the point, within a foot of where the height is the lowest edge. A
/// height from which nothing is in reach has no lines.
std::vector<ReachContour> reach_contours(const Band& band, const std::vector<double>& heights_ft,
                                         Surety surety, const ShareOut& share_out = one_after_another);

}  // namespace glidewright

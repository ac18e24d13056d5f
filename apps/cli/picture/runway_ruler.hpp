#pragma once
// The runway ruler: every attempt of a flight on one scale of feet past the touchdown point.

#include <optional>
#include <string>
#include <vector>

#include "apps/cli/picture/picture_style.hpp"
#include "apps/cli/picture/runway_scale.hpp"
#include "engine/plan/plan.hpp"

namespace glidewright {

/// One attempt.
struct RulerRow {
  int index = 0;     ///< from 1; two digits have room
  std::string time;  ///< "10:12"
  PlaceKind kind = PlaceKind::landed;
  std::optional<RunwayPlace> place;  ///< of the wheels, or where a go-around was heading; none: not known
  std::string verdict;               ///< "meets", "cannot tell", ...; may be empty
};

/// One row per attempt from −500 to +1,500 ft: index and time, 95 % interval, best guess (● in the box, ►
/// long, ◁ short, ∧ went around, with a dashed interval), numbers to 10 ft and the verdict. The scale stands
/// once at the foot; the box is shaded. Without rows: scale, box and one sentence. No line is wider than the
/// style says.
std::string draw_runway_ruler(const std::vector<RulerRow>& rows, Box box, const PictureStyle& style);

}  // namespace glidewright

#pragma once
// The ground sketch of a drill: runway, box, the way flown and, once it is told, the way to come.

#include <optional>
#include <string>

#include "apps/cli/picture/picture_style.hpp"
#include "engine/drill/situation.hpp"
#include "formats/drill_json.hpp"

namespace glidewright {

struct DrillSketch {
  const Situation* situation = nullptr;
  bool told = false;                ///< the way to come and the place in 20 s, too
  std::optional<RunwayPoint> mark;  ///< the student's
};

/// What it is drawn on: runway, box and side of traffic, and the pattern that must have room.
struct DrillGround {
  const PlanRequest& plan;
  const std::vector<Moment>& pattern;
};
DrillGround ground_of(const Drill& drill);

/// Lines with feet along and across at the edges, so that a place can be named. The runway's point is 0, 0.
std::string drill_sketch(const DrillGround& drawn, const DrillSketch& sketch, const PictureStyle& style);

}  // namespace glidewright

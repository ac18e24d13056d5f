#pragma once
// What stands near the runway and has to be cleared: a wood, a mast.

#include <string>

namespace glidewright {

/// As its airfield lists it, from the landing threshold, so that it stays where it is when the point moves.
struct RunwayObstacle {
  std::string what;                  ///< "wood"; may be empty
  double before_threshold_ft = 0.0;  ///< of the landing threshold; past it negative
  double right_ft = 0.0;             ///< of the centreline, looking along the landing direction
  double top_ft = 0.0;               ///< above the landing threshold
};

/// The same from the touchdown point, in the runway frame: not mirrored.
struct Obstacle {
  double along_ft = 0.0;   ///< past the point; negative: before it
  double cross_ft = 0.0;   ///< right of the centreline
  double height_ft = 0.0;  ///< of its top above the point
  std::string what = {};
};

/// Between an obstacle and the way past it. Common practice, no source.
inline constexpr double k_obstacle_clearance_ft = 50.0;
/// Within so far of an obstacle the way has to clear it.
inline constexpr double k_beside_obstacle_ft = 150.0;

}  // namespace glidewright

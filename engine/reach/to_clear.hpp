#pragma once
// Obstacles as the sweep meets them: in the pattern frame, clearance included.

#include <vector>

#include "engine/reach/means.hpp"

namespace glidewright::reach {

/// Within so far of an obstacle the way has to clear it.
inline constexpr double k_beside_obstacle_ft = 150.0;

struct ToClear {
  double along_ft = 0.0;
  double cross_ft = 0.0;
  double height_ft = 0.0;  ///< lowest that is allowed over it
  bool on_final = false;
};

std::vector<ToClear> to_clear(const BandRequest& request);

}  // namespace glidewright::reach

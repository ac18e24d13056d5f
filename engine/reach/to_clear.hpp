#pragma once
// Obstacles as the sweep meets them: in the pattern frame, clearance included.

#include <vector>

#include "engine/reach/means.hpp"

namespace glidewright::reach {

struct ToClear {
  double along_ft = 0.0;
  double cross_ft = 0.0;
  double height_ft = 0.0;  ///< lowest that is allowed over it
  bool on_final = false;
};

std::vector<ToClear> to_clear(const BandRequest& request);

}  // namespace glidewright::reach

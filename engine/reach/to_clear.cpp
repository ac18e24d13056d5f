#include "engine/reach/to_clear.hpp"

#include <cmath>

namespace glidewright::reach {

std::vector<ToClear> to_clear(const BandRequest& request) {
  const double mirror = request.conditions.traffic == Traffic::right ? -1.0 : 1.0;
  std::vector<ToClear> all;
  for (const Obstacle& obstacle : request.obstacles) {
    all.push_back({obstacle.along_ft, mirror * obstacle.cross_ft,
                   obstacle.height_ft + request.obstacle_clearance_ft,
                   std::abs(obstacle.cross_ft) <= k_beside_obstacle_ft});
  }
  return all;
}

}  // namespace glidewright::reach

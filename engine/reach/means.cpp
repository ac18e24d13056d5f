#include "engine/reach/means.hpp"

namespace glidewright {

ReachRegion ReachRegion::pattern(double spacing_ft, const AllowedMeans& means) {
  // A turn of 30 degrees of bank at 75 kt has a radius of 860 ft, the roll into it takes 280 ft; the wind
  // carries it some hundred feet.
  constexpr double turn_ft = 1600.0;
  ReachRegion region;
  region.along_low_ft = -means.farthest_past_abeam_ft - turn_ft;
  region.along_high_ft = 1200.0;
  region.cross_low_ft = -spacing_ft - 800.0;
  region.cross_high_ft = 480.0;
  region.heading_to_turn_deg = 215.0;
  return region;
}

ReachRegion ReachRegion::full(double spacing_ft, const AllowedMeans& means) {
  ReachRegion region = pattern(spacing_ft, means);
  region.cross_high_ft = -region.cross_low_ft;
  region.heading_to_turn_deg = 360.0;
  return region;
}

}  // namespace glidewright

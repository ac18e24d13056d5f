#pragma once
// The wind as the integrator asks for it: in the pattern frame, with its change over height.

#include <vector>

#include "engine/air/wind.hpp"
#include "engine/units/units.hpp"

namespace glidewright {

/// Wind in the pattern frame and its change with height.
struct LocalWind {
  double along_fps = 0.0;  ///< the air moves this way
  double cross_fps = 0.0;
  double along_per_s = 0.0;  ///< gradient, (ft/s)/ft
  double cross_per_s = 0.0;
};

/// The wind profile turned into the pattern frame, as a table with slopes: cubic between levels 1 ft apart
/// below 64 ft and 8 ft apart above, so that the integrator pays no powers. Within 0.001 kt of the profile.
class WindField {
 public:
  enum class Mirrored { no, yes };
  /// extra_headwind, extra_crosswind: added at 10 m, carried up by the same power law.
  WindField(const WindProfile& profile, Degrees runway_true, Mirrored mirrored, Knots extra_headwind,
            Knots extra_crosswind_from_right);
  LocalWind at(double height_ft) const;

 private:
  std::vector<LocalWind> levels_;
};

}  // namespace glidewright

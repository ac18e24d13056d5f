#pragma once
// The wind as the integrator asks for it: in the pattern frame, with its change over height.

#include <vector>

#include "engine/air/wind.hpp"
#include "engine/glide/state.hpp"
#include "engine/lanes/scalar.hpp"
#include "engine/units/units.hpp"

namespace glidewright {

using LocalWind = LocalWindOf<double>;

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

#pragma once
// One pattern, evenly sampled and mirrored so that it lies on the left: what turns and power are read from.
// Internal to track/.

#include <vector>

#include "engine/track/attempts.hpp"
#include "engine/track/smooth.hpp"
#include "engine/track/wind_fit.hpp"

namespace glidewright {

struct PatternMoment {
  double time_unix_s = 0.0;
  double along_ft = 0.0;
  double outside_ft = 0.0;  ///< distance from the centreline on the pattern's side, negative beyond it
  double height_ft = 0.0;
  double turned_deg =
      0.0;                ///< from the downwind direction towards the runway: 0 downwind, 90 base, 180 final
  double bank_deg = 0.0;  ///< towards the runway positive, from sideways acceleration through the air
  double airspeed_fps = 0.0;
  double groundspeed_fps = 0.0;
  double climb_fps = 0.0;
  double energy_height_ft = 0.0;
};

struct PatternView {
  double step_s = 0.5;
  std::vector<PatternMoment> moments;

  /// First moment not before a time; the last one if there is none.
  std::size_t index_at(double time_unix_s) const;
};

/// Samples [from, to] at every half second. `turned` is continuous and ends within (0, 360).
PatternView view_pattern(const SmoothTrack& track, double from_unix_s, double to_unix_s, Traffic traffic,
                         const WindVector& wind);

}  // namespace glidewright

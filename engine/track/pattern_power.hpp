#pragma once
// When power came off, and whether it stayed off. Internal to track/.

#include <optional>
#include <vector>

#include "engine/track/attempts.hpp"
#include "engine/track/log.hpp"
#include "engine/track/pattern_view.hpp"

namespace glidewright {

struct PatternPower {
  AttemptKind kind = AttemptKind::unknown;
  std::optional<double> idle_s;
  double idle_sd_s = 1.5;
  double glide_ratio =
      0.0;  ///< air distance over energy height lost, from idle (or abeam) on; 0 if not known
};

/// abeam_s       when the point was passed, or when the view begins
/// base_turn_s   start of the base turn, if there was one
/// end_s         height above about 50 ft still: flare, go-around or the end of the log
PatternPower find_power(const PatternView& view, const std::vector<PanelSample>& panel, double abeam_s,
                        std::optional<double> base_turn_s, double end_s);

}  // namespace glidewright

#pragma once
// Base turn, base, final turn and final leg of one pattern. Internal to track/.

#include <optional>
#include <vector>

#include "engine/track/attempts.hpp"
#include "engine/track/log.hpp"
#include "engine/track/pattern_view.hpp"

namespace glidewright {

/// Times found, and how well each is known.
struct PatternTurns {
  std::optional<double> base_turn_s;
  std::optional<double> base_s;
  std::optional<double> final_turn_s;
  std::optional<double> final_leg_s;
  double roll_in_sd_s = 0.5;
  double wings_level_sd_s = 1.0;
  std::optional<BankEstimate> base_turn_bank;
  std::optional<BankEstimate> final_turn_bank;
  bool continuous = false;  ///< no wings-level base
};

/// fix_interval_s  usual time between fixes: what happens in between is blurred
/// The panel's roll decides where it was recorded.
PatternTurns find_turns(const PatternView& view, const std::vector<PanelSample>& panel,
                        double fix_interval_s);

}  // namespace glidewright

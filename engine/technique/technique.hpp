#pragma once
// What the pilot does: cues, speeds, turns, flap and slip rules, gate, flare.

#include <optional>
#include <vector>

#include "engine/technique/scatter.hpp"

namespace glidewright {

/// Flap lever to a setting.
struct FlapStep {
  double setting_deg = 0.0;
  enum class When {
    wings_level_base,
    final_turn,
    wings_level_final,
    at_height
  } when = When::wings_level_base;
  double height_ft = 0.0;  ///< for at_height: on passing it downward after abeam
  /// Leave it up while the eye says that with it the touchdown would fall short of the planned one.
  bool only_if_high_enough = false;
};

/// A forward slip on final.
struct SlipStep {
  double in_height_ft = 0.0;
  double out_height_ft = 100.0;
};

/// One way to fly the power-off approach. Pattern frame: always a left-hand pattern. Speeds calibrated.
struct Technique {
  double pattern_height_ft = 1000.0;
  double spacing_ft = 3038.0;
  double pattern_speed_kt = 85.0;
  double idle_s_after_abeam = 0.0;
  double base_turn_s_after_abeam = 10.0;  ///< the cue
  double downwind_speed_kt = 70.0;        ///< glide speed from idle to the base turn
  double base_speed_kt = 67.0;
  double final_speed_kt = 65.0;
  double short_final_speed_kt = 63.0;  ///< below 150 ft
  double base_turn_bank_deg = 30.0;
  double base_course_deg = 0.0;       ///< from square to the runway, positive cuts towards the threshold
  double final_turn_bank_deg = 30.0;  ///< aimed for; steeper up to final_turn_bank_limit_deg when late
  double final_turn_bank_limit_deg = 40.0;
  double final_turn_cross_shift_ft =
      0.0;                   ///< the roll-in this much nearer to (+) or farther from (-) the centreline
  bool path_by_eye = false;  ///< on base: steer towards or away from the threshold to end on the point
  std::vector<FlapStep> flaps;
  bool slip_when_high = false;   ///< by eye, wings level on final, out by 100 ft
  std::optional<SlipStep> slip;  ///< at fixed heights instead
  double landing_flap_deg = 30.0;
  double planned_touchdown_ft = 100.0;  ///< where the eye steers to, along
  double touchdown_speed_kt = 52.0;
  double flare_lead_s = 2.5;  ///< flare starts at this many seconds of sink
  double gate_height_ft = 200.0;
  bool go_around_when_unstable = true;  ///< off for counterfactual flights
};

/// The technique as planned, with no rule answering anything: every flap at its place, base square, no slip.
Technique without_rules(Technique technique);

}  // namespace glidewright

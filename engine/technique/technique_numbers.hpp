#pragma once
// A Technique as plain numbers: what can be handed to code that is compiled for one instruction set.

namespace glidewright {

/// A slip goes in when the eye sees the touchdown this far beyond the planned one (the box's far end) and out
/// when it sees it there. At 200 ft and out at 60 three in ten landed in the box, so four: too late and too
/// little.
inline constexpr double k_slip_when_beyond_ft = 100.0;

struct FlapStepNumbers {
  /// When the lever moves, as numbers, so that lanes can hold them.
  struct When {
    static constexpr double wings_level_base = 0.0, final_turn = 1.0, wings_level_final = 2.0,
                            at_height = 3.0;
  };
  double setting_deg = 0.0;
  double when = When::wings_level_base;
  double height_ft = 0.0;
  bool only_if_high_enough = false;
};

/// Names and units as in Technique; `double`, or the same number in every lane.
template <class L>
struct TechniqueValues {
  L pattern_height_ft = 1000.0;
  L spacing_ft = 3038.0;
  L pattern_speed_kt = 85.0;
  L idle_s_after_abeam = 0.0;
  L base_turn_s_after_abeam = 10.0;
  L downwind_speed_kt = 70.0;
  L base_speed_kt = 67.0;
  L final_speed_kt = 65.0;
  L short_final_speed_kt = 63.0;
  L base_turn_bank_deg = 30.0;
  L base_course_deg = 0.0;
  L final_turn_bank_deg = 30.0;
  L final_turn_bank_limit_deg = 40.0;
  L final_turn_cross_shift_ft = 0.0;
  L slip_in_ft = 0.0;
  L slip_out_ft = 0.0;
  L slip_flap_limit_deg = 0.0;
  L landing_flap_deg = 30.0;
  L planned_touchdown_ft = 100.0;
  L touchdown_speed_kt = 52.0;
  L flare_lead_s = 2.5;
  L gate_height_ft = 200.0;
  L last_flap_deg = 0.0;  ///< of the last flap step
};

/// Which of the rules are in use.
struct TechniqueRules {
  bool path_by_eye = false;
  bool slip_when_high = false;
  bool slip_at_heights = false;
  const FlapStepNumbers* flaps = nullptr;  ///< owned by whoever made these
  int flap_count = 0;
};

template <class L>
struct TechniqueNumbersOf : TechniqueValues<L>, TechniqueRules {};
using TechniqueNumbers = TechniqueNumbersOf<double>;

}  // namespace glidewright

#pragma once
// A Technique as plain numbers: what can be handed to code that is compiled for one instruction set.

namespace glidewright {

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

/// Names and units as in Technique.
struct TechniqueNumbers {
  double pattern_height_ft = 1000.0;
  double spacing_ft = 3038.0;
  double pattern_speed_kt = 85.0;
  double idle_s_after_abeam = 0.0;
  double base_turn_s_after_abeam = 10.0;
  double downwind_speed_kt = 70.0;
  double base_speed_kt = 67.0;
  double final_speed_kt = 65.0;
  double short_final_speed_kt = 63.0;
  double base_turn_bank_deg = 30.0;
  double base_course_deg = 0.0;
  double final_turn_bank_deg = 30.0;
  double final_turn_bank_limit_deg = 40.0;
  double final_turn_cross_shift_ft = 0.0;
  bool path_by_eye = false;
  bool slip_when_high = false;
  bool slip_at_heights = false;
  double slip_in_ft = 0.0;
  double slip_out_ft = 0.0;
  double slip_flap_limit_deg = 0.0;
  double landing_flap_deg = 30.0;
  double planned_touchdown_ft = 100.0;
  double touchdown_speed_kt = 52.0;
  double flare_lead_s = 2.5;
  double gate_height_ft = 200.0;
  const FlapStepNumbers* flaps = nullptr;  ///< owned by whoever made these
  int flap_count = 0;
};

}  // namespace glidewright

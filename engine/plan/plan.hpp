#pragma once
// Today's plan: the base-turn cue and what to expect on the way, over the spread of wind, airplane and pilot.

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "engine/batch/share_out.hpp"
#include "engine/technique/approach.hpp"
#include "engine/track/obstacle.hpp"

namespace glidewright {

/// Part of the runway in which the landing counts.
struct Box {
  double low_ft = 0.0;
  double high_ft = 200.0;
};

struct PlanRequest {
  Airplane airplane;
  Conditions conditions;
  Technique technique;  ///< its base_turn_s_after_abeam is what is searched
  Scatter scatter;
  Box box;
  double threshold_along_ft = -1000.0;
  double runway_end_along_ft = 4000.0;
  double elevation_ft = 0.0;
  std::uint64_t seed = 1;
  int search_flights = 12000;  ///< about so many choose cue and technique; 0: the cue as planned, unsearched
  int flights = 2000;          ///< over the spread, once they are chosen; 0: no odds, only what is planned
  double nominal_step_s = 0.02;  ///< of the planned approach itself; 0.1 moves its touchdown by a few feet
  /// Flap schedules that may be flown in place of the technique's.
  std::vector<std::vector<FlapStep>> other_flaps;
  std::vector<Obstacle> obstacles = {};  ///< the planned path has to clear them
};

/// Base-turn cue, three ways.
struct Cue {
  double seconds_past_abeam = 0.0;
  double distance_past_abeam_ft = 0.0;
  double angle_past_abeam_deg = 0.0;   ///< square to the runway
  double angle_behind_wing_deg = 0.0;  ///< what the eye sees from the crabbed airplane
  double crab_deg = 0.0;               ///< nose right of course positive
};

/// Height to expect at one place, and what two thirds of the flights that made the box had there.
struct ExpectedHeight {
  std::string at;  ///< "abeam", "base turn", "mid-base", "final turn", "half-mile final", "gate"
  double height_ft = 0.0;
  double low_ft = 0.0;
  double high_ft = 0.0;
};

struct FlapAdvice {
  std::string at;  ///< "wings level on base", "on final, by 350 ft"
  double setting_deg = 0.0;
  std::string rule;  ///< "leave it up if low"
};

struct PlanSpeeds {
  double pattern_kcas = 0.0;
  double downwind_kcas = 0.0;
  double base_kcas = 0.0;
  double final_kcas = 0.0;  ///< half the gust added
  double short_final_kcas = 0.0;
  double gust_addition_kt = 0.0;
  double best_glide_kcas = 0.0;  ///< at the weight of the day
  double stall_landing_kcas = 0.0;
  std::string source;
};

struct Chance {
  double probability = 0.0;
  double low95 = 0.0;  ///< of the Monte Carlo: Clopper-Pearson
  double high95 = 0.0;
};

struct Success {
  Chance in_box;
  double landed_in_box_of_landed = 0.0;
  double go_around = 0.0;
  double short_of_runway = 0.0;  ///< with the go-around disabled
  double in_box_second_early = 0.0;
  double in_box_second_late = 0.0;
  double median_touchdown_ft = 0.0;
  double low80_ft = 0.0;
  double high80_ft = 0.0;
  int flights = 0;  ///< 0: none were asked for, and nothing here is told
};

/// What a rule of the pilot's is worth where it is used: the same flights with it and without it.
struct RuleWorth {
  std::string at;    ///< key point, as ExpectedHeight's
  std::string when;  ///< "above 910 ft", "below 790 ft", "always"
  std::string rule;  ///< "square off base, away from the threshold"
  int flights = 0;   ///< that were so at this key point
  double in_box_followed = 0.0;
  double in_box_not_followed = 0.0;
  double gain = 0.0;  ///< the difference, with its 95 % interval
  double gain_low95 = 0.0;
  double gain_high95 = 0.0;
  bool shown_to_help() const { return gain_low95 > 0.0; }
};

/// "1 kt more headwind: turn 0.6 s sooner"; touchdown_ft is what it moves when nothing else is corrected.
struct Sensitivity {
  std::string change;
  double touchdown_ft = 0.0;
  std::optional<double> cue_s;
};

struct Plan {
  Cue cue;
  double unanswered_cue_s = 0.0;  ///< with which, everything as planned, no rule has anything to answer
  Technique technique;            ///< as chosen: flaps, place steered to, cue
  std::vector<ExpectedHeight> key_points;
  std::vector<FlapAdvice> flaps;
  PlanSpeeds speeds;
  double looking_spot_ft = 0.0;    ///< along; where the eye should see no motion on final
  double gate_altimeter_ft = 0.0;  ///< altimeter reading at the gate
  Success success;
  int search_flights = 0;  ///< flown to choose cue and technique
  std::vector<RuleWorth> rules;
  std::vector<Sensitivity> sensitivities;
  double planned_touchdown_ft = 100.0;
  Approach nominal;  ///< the planned approach itself, the rules answering what is left, with trace
};

/// A plan, or the reasons why none is offered; cautions either way.
struct PlanAnswer {
  std::optional<Plan> plan;
  std::vector<std::string> refusals;  ///< each says what is wrong; no number is offered then
  std::vector<std::string> cautions;
  std::vector<std::string> assumed;  ///< inputs that set the cue and were not given
};

/// The plan with the greatest share of flights in the box, of those with at most 0.5 % short of the runway
/// with the go-around disabled and whose own approach, flown without a deviation, ends stable in the box.
PlanAnswer make_plan(const PlanRequest& request, const ShareOut& share_out = one_after_another);

}  // namespace glidewright

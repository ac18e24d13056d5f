#pragma once
// A moment of an approach, shown frozen: what would become of it, left alone?

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "engine/plan/plan.hpp"
#include "engine/reach/band.hpp"

namespace glidewright {

/// Where it ends, left alone: short of the box, in it, or beyond it.
enum class Energy { low, on, high };

/// What would still bring it into the box, the least of it: for a low one the flaps held back, or a shorter
/// way too; for a high one a longer way, flaps now, or a slip too. `none`: go around.
enum class Remedy { nothing, flaps_held, shorter_way, longer_way, flaps, slip, none };

/// Where on its way it was frozen.
enum class DrillLeg { base_turn, base, final_turn, final_leg };

struct Situation {
  std::uint64_t seed = 0;
  int number = 0;  ///< of the seed, from 1
  DrillLeg leg = DrillLeg::base;

  // What may be shown before the answer; heights may not.
  std::vector<Moment> flown;  ///< from abeam to the moment at which it is frozen
  Moment now;

  // The answer.
  Energy energy = Energy::on;
  double touchdown_ft = 0.0;   ///< past the point, left alone: flaps as planned, no slip, no other correction
  double beyond_box_ft = 0.0;  ///< past its far end; negative: before its near end; 0 in it
  Moment in_20_s;              ///< left alone
  std::vector<Moment> to_come;     ///< from now to the wheels
  double planned_height_ft = 0.0;  ///< of the plan where it has as far to go over the ground
  Room room;                       ///< of the place, in the air as it is
  Remedy remedy = Remedy::nothing;
  /// Where it lands with the most that flaps and slip can do from here on: all of both where it is high, no
  /// more flap where it is low.
  double touchdown_at_most_ft = 0.0;
};

/// What the situations of a drill share.
struct DrillSetting {
  PlanRequest plan;
  double cue_s = 0.0;  ///< with which the plan, left alone, touches down at the planned place
  Approach planned;
  Band band;
};

/// The setting, or why there is none (no cue brings the planned approach to its place).
struct DrillSettingAnswer {
  std::optional<DrillSetting> setting;
  std::string refusal;
};
DrillSettingAnswer drill_setting(const PlanRequest& plan, const ShareOut& share_out = one_after_another);

/// The situation of a seed and number: the same whoever asks. An approach with a cue, height, spacing, speed
/// and bank otherwise than planned is flown by the reference integrator and frozen somewhere between the base
/// turn and the gate, 24 s or more before the wheels touch. Low, on and high come equally often, and none is
/// within 80 ft of being another (40 ft inside the box).
Situation situation_of(const DrillSetting& setting, std::uint64_t seed, int number);

}  // namespace glidewright

#pragma once
// What one landing, flown before the one that is to count, tells about today's wind and airplane.

#include <optional>
#include <vector>

#include "engine/plan/plan.hpp"
#include "engine/plan/search.hpp"

namespace glidewright {

/// Was power used between idle and the wheels?
enum class PowerUsed { none, assisted, unknown };

/// Wind of a track log, 10 m above the point.
struct MeasuredWind {
  double headwind_kt = 0.0;
  double headwind_sd_kt = 0.0;
  double crosswind_from_right_kt = 0.0;
  double crosswind_sd_kt = 0.0;
};

struct DryRun {
  double landed_ft = 0.0;      ///< past the point; negative short of it
  double landed_sd_ft = 60.0;  ///< paced by eye between runway marks: common practice, no source
  PowerUsed power = PowerUsed::unknown;
  std::optional<double> base_turn_s;  ///< past abeam; none: as planned
  std::optional<MeasuredWind> wind;
};

/// A value and how far it may be off, one standard deviation.
struct Belief {
  double value = 0.0;
  double sd = 0.0;
};

struct BeliefChange {
  Belief before;
  Belief after;
};

enum class DryRunTold {
  something,
  little,        ///< what is believed hardly changed: the request stays as it was
  does_not_fit,  ///< no wind, airplane and hand that are likely today land there: nothing is changed
};

struct DryRunCorrection {
  DryRunTold told = DryRunTold::little;
  Belief expected_touchdown_ft;  ///< of this landing, before it was flown
  BeliefChange headwind_kt;      ///< at 10 m, the part that lasts; a gust passes
  BeliefChange crosswind_from_right_kt;
  BeliefChange drag_relative;  ///< of the profile's: +0.05 is five in a hundred more
  PlanRequest corrected;       ///< with the wind, the airplane and their spread as now believed
};

/// Flies the landing many times over the spread, weighs each flight by how well it agrees with what was seen,
/// and takes wind and drag from the weighed flights (importance sampling). So the pilot's own corrections on
/// the way are in it, and a miss that any hand can make changes next to nothing. Power, used or perhaps used,
/// lengthens a landing by an unknown stretch; then only a short landing says much.
DryRunCorrection correct_by_dry_run(const PlanRequest& request, double planned_cue_s, const DryRun& dry_run);

/// The same with flights that were flown before: those of the request's seed from 0 on, with the cue of the
/// dry run.
DryRunCorrection correct_by_dry_run(const PlanRequest& request, const std::vector<FlownOnce>& flights,
                                    const DryRun& dry_run);

/// The airplane with all of its drag changed by this share.
Airplane with_drag_changed(const Airplane& airplane, double relative);

}  // namespace glidewright

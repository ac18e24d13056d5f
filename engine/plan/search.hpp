#pragma once
// Flying a technique many times over the spread, and searching the cue with the same luck for every
// candidate.

#include <vector>

#include "engine/batch/flown_once.hpp"
#include "engine/plan/plan.hpp"

namespace glidewright {

/// Flights [first, first + count) of the request's seed with this cue.
std::vector<FlownOnce> fly_over_spread(const PlanRequest& request, double cue_s, int first, int count,
                                       const ShareOut& share_out = one_after_another);

/// Stable at the gate and landed in the box.
bool in_box(const FlownOnce& flown, Box box);
/// Touched before the threshold, or before it was lined up with the runway at all. What is unstable at the
/// gate goes around in earnest, but the bound on this holds with the go-around disabled.
bool landed_short(const FlownOnce& flown, double threshold_along_ft);

/// Share of flights that were stable at the gate and landed in the box.
int count_in_box(const std::vector<FlownOnce>& flights, Box box);

/// Share of flights that touched down before the threshold.
double share_short(const std::vector<FlownOnce>& flights, double threshold_along_ft);

struct CueFound {
  double cue_s = 0.0;
  bool found = false;
  bool always_short = false;  ///< with base turned at once the planned approach still ends short
  bool always_long = false;   ///< with every cue tried it ends long
};

/// The cue with which the approach as planned (no deviation, no rule answering anything) touches down at the
/// planned place. Touchdown is not monotone in the cue: scanned, then refined; of several the one with the
/// most flights in the box.
CueFound search_cue(const PlanRequest& request);

/// The approach as planned at a cue, no rule answering anything.
Approach fly_nominal(const PlanRequest& request, double cue_s, Trace trace);

/// The same with the pilot's rules answering what is left, and without the go-around.
Approach fly_nominal_with_rules(const PlanRequest& request, double cue_s, Trace trace);

}  // namespace glidewright

#pragma once
// What the miss is made of: flights in which one thing is as flown and the rest as planned.

#include <optional>

#include "engine/debrief/debrief.hpp"
#include "engine/debrief/flown.hpp"
#include "engine/plan/plan.hpp"

namespace glidewright {

/// What the causes are measured against, and the flight they belong to.
struct CausesRequest {
  /// For the height, spacing and speed flown abeam, or as it was saved; its wind is the plan's.
  PlanRequest plan;
  bool pattern_was_planned = false;  ///< then height, distance and speed abeam are a cause of their own
  double planned_cue_s = 10.0;
  AttemptAsFlown flown;
  WindEstimate wind;                   ///< as the log shows it
  std::optional<Touchdown> touchdown;  ///< none for a go-around
};

/// The causes in flown order and what stays unexplained; or the reason why the model cannot say.
/// For a landing, causes and unexplained sum to touchdown minus planned touchdown; for a go-around the causes
/// alone to where it would have touched, and nothing is unexplained.
Causes find_causes(const CausesRequest& request);

/// An approach that went around: where it was heading, with the plan's remaining decisions, and what made it
/// so.
struct GoAroundExplained {
  std::optional<Touchdown> projected;
  Causes causes;  ///< none where it was sent around, by traffic or a call
};
GoAroundExplained explain_go_around(const CausesRequest& request, bool was_sent_around);

}  // namespace glidewright

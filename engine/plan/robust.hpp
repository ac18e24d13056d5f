#pragma once
// Cue and technique that land most flights in the box: a plan that is robust rather than lucky.

#include <functional>

#include "engine/plan/search.hpp"

namespace glidewright {

/// What is flown: a cue, and the technique's free parameters. Those are where each flap is set (the request's
/// schedules) and the place that the eye steers to.
struct RobustCue {
  double cue_s = 0.0;
  Technique technique;
  int flights = 0;  ///< flown to find it
};

/// Whether the cue will do, as other flights than the search's judge it.
using AcceptsCue = std::function<bool(const RobustCue&)>;

/// Searches about `unanswered_cue_s`, the cue as planned, by successive halving: all candidates fly the same
/// few flights of the seed, the better ones more. Other than the cue as planned with the request's own
/// technique is chosen only where it lands at least 1.5 flights in 100 more, and more than luck explains.
///
/// Offers the best; as long as none is accepted, ever earlier turns, for when the best is too often short
/// after all. Without flights to search with, the first offered is the nearest cue that lands as planned.
void offer_robust_cues(const PlanRequest& request, double unanswered_cue_s, const ShareOut& share_out,
                       const AcceptsCue& accepts);

}  // namespace glidewright

#pragma once
// Cue and technique that land most flights in the box: a plan that is robust rather than lucky.

#include "engine/plan/search.hpp"

namespace glidewright {

/// What is flown: a cue, and the technique's free parameters. Those are where each flap is set (the request's
/// schedules) and the place that the eye steers to.
struct RobustCue {
  double cue_s = 0.0;
  Technique technique;
  int flights = 0;  ///< flown to find it
};

/// Searches about `unanswered_cue_s`, the cue as planned, by successive halving: all candidates fly the same
/// few flights of the seed, the better ones more. Other than the cue as planned with the request's own
/// technique is chosen only where it lands at least 1.5 flights in 100 more, and more than luck explains.
/// Best first; those that follow turn ever earlier, for when other flights than the search's find the first
/// too often short. Without flights to search with: the nearest cue that lands as planned.
std::vector<RobustCue> search_robust_cues(const PlanRequest& request, double unanswered_cue_s,
                                          const ShareOut& share_out);

}  // namespace glidewright

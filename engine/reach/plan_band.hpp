#pragma once
// The band round the planned approach: what card, brief and strip print.

#include <optional>
#include <string>
#include <vector>

#include "engine/reach/along.hpp"

namespace glidewright {

/// Room at one of the places that the plan names.
struct RoomAtPlace {
  std::string at;  ///< as in ExpectedHeight
  Room mean;
  Room sure;
  /// What the obstacles add to the lowest of `sure`.
  double raised_by_obstacles_ft = 0.0;
  bool closed_by_obstacles = false;  ///< without them it would be open
};

struct PlanBand {
  AllowedMeans means;
  double obstacle_clearance_ft = k_obstacle_clearance_ft;
  BandAlong along;
  std::vector<RoomAtPlace> places;  ///< from abeam to half-mile final; none at the gate
};

/// Airplane, air, technique and obstacles of the plan with these means, round a pattern of its spacing.
BandRequest band_request_of(const PlanRequest& plan, const AllowedMeans& means = {});

/// Along the planned approach, whose trace must be there (Trace::every_decision).
PlanBand band_of_plan(const PlanRequest& plan, const Approach& nominal, const AllowedMeans& means = {},
                      const ShareOut& share_out = one_after_another, const ReachGrid& grid = {});

}  // namespace glidewright

#pragma once
// The stretch of a track that an attempt's drawings show, and the plan's beside it.

#include <optional>
#include <vector>

#include "engine/debrief/debrief.hpp"

namespace glidewright::report {

/// One place of a path; the pattern on the left, whatever the traffic.
struct PathPlace {
  double time_s = 0.0;  ///< after abeam, or after the attempt's beginning
  double along_ft = 0.0;
  double out_ft = 0.0;  ///< from the centreline to the pattern's side
  double height_ft = 0.0;
  double to_go_ft = 0.0;  ///< ground still to be covered to the end of the path
};

/// From a few seconds before abeam to the wheels, the go-around or the log's end; once a second.
std::vector<PathPlace> flown_path(const AttemptDebrief& one, const Debrief& debrief);

/// Of an approach whose trace is there; once a second.
std::vector<PathPlace> path_of(const Approach& approach, Traffic traffic);

/// Empty without a plan.
std::vector<PathPlace> planned_path(const AttemptDebrief& one);

/// The place at a time within the path.
std::optional<PathPlace> place_at(const std::vector<PathPlace>& path, double time_s);

}  // namespace glidewright::report

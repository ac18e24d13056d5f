#pragma once
// Where the airplane was on the ground, where it flew, and how each approach ended. Internal to track/.

#include <cstddef>
#include <optional>
#include <vector>

#include "engine/track/attempts.hpp"

namespace glidewright {

/// Fixes first to last, both included.
struct Stretch {
  std::size_t first = 0;
  std::size_t last = 0;
};

/// The end of one approach to this runway.
struct ApproachEnd {
  Outcome outcome = Outcome::unfinished;
  std::size_t state = 0;             ///< first on the ground, lowest of a go-around, or the last fix
  std::size_t flight_first = 0;      ///< first fix that can belong to the approach
  std::size_t end = 0;               ///< rollout ended, climbed away, or the log ended
  std::optional<std::size_t> abeam;  ///< last fix before the point was passed on downwind
  bool height_known = true;
};

/// Every approach to the runway of the frame, in flown order. Landings on others, departures, and flights
/// overhead are none.
std::vector<ApproachEnd> find_approach_ends(const std::vector<TrackState>& states, const RunwayFrame& frame);

/// A height with more uncertainty than this cannot tell ground from pattern.
inline constexpr double k_useful_height_sd_ft = 150.0;

inline bool knows_height(const TrackState& s) {
  return s.height_sd_ft < k_useful_height_sd_ft;
}

/// Direction over the ground from the landing direction, clockwise, degrees in (-180, 180].
double course_from_runway_deg(const TrackState& s);

}  // namespace glidewright

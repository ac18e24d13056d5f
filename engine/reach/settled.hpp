#pragma once
// From a place at any speed to places at the speed that the edges are reckoned for.

#include <vector>

#include "engine/reach/band.hpp"

namespace glidewright::reach {

/// Where the airplane can be once its speed is the taught one and the roll into a turn is done.
struct SettledPlace {
  PlaceInPattern place;
  double height_spent_ft = 0.0;  ///< since the place it comes from; level while it slows down
};

/// Ways to get there: straight on, or into the turn at once or after some seconds. Level at first and power
/// fading, as the technique has it; a turn at 85 kt is wide, so speed is worth less in it than on a straight.
std::vector<SettledPlace> settle(const Flight& flight, const BandRequest& request,
                                 const PlaceInPattern& from);

}  // namespace glidewright::reach

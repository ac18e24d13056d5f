#pragma once
// The way that a band knows to the box: what the checks fly by the reference integrator.

#include "engine/reach/band.hpp"
#include "engine/reach/flown_from.hpp"

namespace glidewright::reach {

/// Steers for the middle of what is left between the edges, by the means that the band was reckoned with:
/// straight on or turn, flaps, slip. Where that, flown ahead, would miss the box, it first flies straight on
/// or turns for some seconds, or has its flaps otherwise, as far as one of these ways lands: edges in feet of
/// height do not show how near a place is to where a turn no longer fits. `band` must outlive it. One flight
/// each: it remembers what it began.
Steering steer_by(const Band& band);

}  // namespace glidewright::reach

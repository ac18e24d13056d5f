#pragma once
// The way that a band knows to the box: what the checks fly by the reference integrator.

#include "engine/reach/band.hpp"
#include "engine/reach/flown_from.hpp"

namespace glidewright::reach {

/// Steers for the middle of what is left between the edges, by the means that the band was reckoned with:
/// straight on or turn, flaps, slip. `band` must outlive it. One flight each: it remembers what it began.
Steering steer_by(const Band& band);

}  // namespace glidewright::reach

#pragma once
// The state of a flight as it is told: runway frame, feet, knots, degrees.

#include "engine/glide/motion.hpp"
#include "engine/technique/approach.hpp"

namespace glidewright {

Moment moment_of(const Flight& flight, const Conditions& conditions, const Commands& commands,
                 const FlightState& state, double time_s);

/// `share` of the way from one to the next; heading, flap, slip and load are the later's.
Moment between(const Moment& from, const Moment& to, double share);

}  // namespace glidewright

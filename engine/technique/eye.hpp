#pragma once
// The pilot's eye: where would the glide end from here? The rule itself is in glide_seen.hpp.

#include "engine/glide/motion.hpp"
#include "engine/technique/glide_seen.hpp"
#include "engine/technique/technique.hpp"

namespace glidewright {

/// What the eye reckons with.
using EyeConfiguration = pilot::EyeConfigurationOf<double>;

/// Along-runway touchdown if the glide is carried on from here with this flap.
double eye_touchdown_ft(const Flight& flight, const FlightState& state, const Technique& technique,
                        EyeConfiguration configuration);

}  // namespace glidewright

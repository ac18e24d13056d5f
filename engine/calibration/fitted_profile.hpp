#pragma once
// The profile that a fit leaves.

#include "engine/calibration/glide_fit.hpp"

namespace glidewright {

/// The handbook with the fitted numbers of the idling airplane, each with its spread and "fitted from N
/// glides of LOG"; numbers on which the glides told next to nothing keep their source. What the handbook said
/// stays in `fitted->handbook`, through any number of fits. Stall, approach and limit speeds are never
/// touched. given: the profile that was fitted, as it was read.
Handbook fitted_profile(const Handbook& given, const GlideFit& fit, const std::vector<GlideLog>& logs);

}  // namespace glidewright

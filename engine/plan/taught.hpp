#pragma once

#include <vector>

#include "engine/airplane/airplane.hpp"
#include "engine/technique/technique.hpp"

namespace glidewright {

/// The technique that is taught where nobody says otherwise: best-glide speed to the base turn, approach
/// speed (half the gust added) on final, first flap on base, landing flap on final, both left up when low, a
/// slip when high; 30 degrees of bank.
Technique taught_technique(const Airplane& airplane, double weight_lb, double gust_kt);

/// Flap schedules that are taught beside taught_technique's own: the same settings, each a place later.
std::vector<std::vector<FlapStep>> other_taught_flaps(const Technique& taught);

}  // namespace glidewright

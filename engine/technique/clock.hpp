#pragma once
// When the pilot decides and what is noted on the way: the same for the reference and the batch. Plain
// numbers only, since code for one instruction set includes it.

namespace glidewright {

inline constexpr double k_decision_s = 0.2;  ///< between two decisions, whatever the step
inline constexpr double k_longest_approach_s = 400.0;
inline constexpr double k_half_mile_ft = 0.5 * 1852.0 / 0.3048;  ///< half a nautical mile

}  // namespace glidewright

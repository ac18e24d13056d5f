#pragma once
// The throttle lever as a log shows it.

namespace glidewright {

/// From the lever starting back, which a key point of an attempt calls idle, to where it is closed. Common
/// practice, no source.
inline constexpr double k_lever_closes_s = 1.0;

}  // namespace glidewright

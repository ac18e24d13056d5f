#pragma once
// WGS-84: earth-fixed coordinates, and distance and direction between two places.

#include <array>

#include "engine/track/runway.hpp"

namespace glidewright {

/// Defining constants. Source: NIMA TR 8350.2 (WGS 84).
inline constexpr double k_wgs84_semi_major_m = 6378137.0;
inline constexpr double k_wgs84_flattening = 1.0 / 298.257223563;

/// Earth-fixed Cartesian coordinates, m: x through (0, 0), y through (0, 90 E), z through the pole.
using EarthFixed = std::array<double, 3>;
EarthFixed earth_fixed(Geodetic place, double ellipsoid_height_m);
/// Inverse of earth_fixed, height dropped. Accuracy: 1e-9 degrees within 10 km of the ellipsoid.
Geodetic geodetic(EarthFixed point);

/// Shortest line on the ellipsoid.
struct Geodesic {
  Metres distance;
  Degrees azimuth_from;  ///< true direction at the first place, [0, 360)
  Degrees azimuth_back;  ///< at the second place, towards the first
};
/// Source: T. Vincenty, Survey Review XXIII (1975), inverse formula. Accuracy: 0.5 mm.
/// Not for nearly antipodal places, where it does not converge (asserted).
Geodesic geodesic_between(Geodetic from, Geodetic to);

}  // namespace glidewright

#pragma once
// Wind as a profile of height: what is reported at 10 m is not what blows on downwind.

#include <optional>

#include "engine/units/units.hpp"

namespace glidewright {

/// Where the wind blows from, true, and how hard.
struct Wind {
  Degrees from_true;
  Knots speed;
};

/// Head and cross part on a landing direction.
struct WindComponents {
  Knots headwind;              ///< positive against the landing
  Knots crosswind_from_right;  ///< positive from the right
};
WindComponents components(Wind wind, Degrees landing_direction_true);
/// The wind that has these components.
Wind wind_with(WindComponents components, Degrees landing_direction_true);

/// Wind angle and ground speed for a course to be made good. None where the wind is stronger than that.
/// Source: the wind triangle, sin(angle) = crosswind / true airspeed.
struct CourseSolution {
  Degrees wind_correction_angle;  ///< right positive
  Knots groundspeed;
};
std::optional<CourseSolution> hold_course(Knots true_airspeed, Wind wind, Degrees course_true);

/// Speed as a function of height above ground, direction veering linearly between two levels where given.
struct WindProfile {
  Wind at_10m;
  Knots gust{0.0};                        ///< above the mean; G18 on 12 is 6
  double power_law_exponent = 1.0 / 7.0;  ///< 0 for the same wind at every height
  std::optional<Wind> aloft;              ///< measured wind at aloft_height; the profile passes through it
  Feet aloft_height{1000.0};

  /// Mean wind at a height; below the floor of 2 m and above the cap of 1,300 ft the value there.
  Wind at(Feet height_above_ground) const;
};

/// Ratio to the 10 m wind by the power law (h / 10 m)^exponent, no floor or cap.
double power_law_ratio(Metres height, double exponent);
/// Ratio to the 10 m wind by the logarithmic law ln(h / z0) / ln(10 m / z0).
/// z0 0.03 m open grass, 0.10 m low crops: WMO-No. 8.
double log_law_ratio(Metres height, Metres roughness_length);

}  // namespace glidewright

#pragma once
// The wind that makes the airspeed behind a series of ground velocities vary as slowly as airspeeds do.
// Internal: behind find_attempts and estimate_wind.

#include <Eigen/Core>
#include <vector>

namespace glidewright {

/// Ground velocity at one moment, in the runway frame.
struct CircuitVelocity {
  double time_s = 0.0;
  double along_fps = 0.0;
  double cross_fps = 0.0;
  double height_ft = 0.0;
  double speed_sd_fps = 0.0;
  /// Expected true airspeed of the leg that begins here; 0 where the leg before goes on.
  double new_airspeed_fps = 0.0;
  double new_airspeed_sd_fps = 0.0;
  /// Expected change of the leg's airspeed from here on, where a pilot is taught to change it.
  double change_fps = 0.0;
  double change_sd_fps = 0.0;
};

/// How airspeed wanders about the mean of its leg, and how gusts disturb it.
struct AirspeedModel {
  double wander_sd_fps = 8.0;
  double wander_time_s = 25.0;
  double gust_sd_fps = 2.5;
  double gust_time_s = 6.0;
};

/// Where the air moves to, 10 m above the ground, and how that grows and turns with height.
struct WindVector {
  double along_fps = 0.0;
  double cross_fps = 0.0;
  double exponent = 0.09;
  double veer_rad_per_1000ft = 0.0;  ///< clockwise, from 10 m up

  struct Components {
    double along_fps = 0.0;
    double cross_fps = 0.0;
  };
  Components at(double height_ft) const;
};

struct WindBelief {
  WindVector mean;
  double sd_fps = 17.0;  ///< of each component: 10 kt
  double exponent_sd = 0.07;
  double veer_sd_rad_per_1000ft = 0.14;  ///< 8 degrees
};

struct WindFit {
  WindVector wind;
  Eigen::Matrix4d covariance = Eigen::Matrix4d::Zero();  ///< order of WindVector's members
  double misfit = 0.0;  ///< mean square of the whitened airspeeds, 1 as modelled
};

/// Most probable wind given the velocities (in order of time) and the belief. The belief where there are
/// none.
WindFit fit_wind(const std::vector<CircuitVelocity>& velocities, const AirspeedModel& airspeed,
                 const WindBelief& belief);

}  // namespace glidewright

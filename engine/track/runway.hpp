#pragma once
// The runway, and the frame in which everything is said: along, cross, height from the touchdown point.

#include <string>
#include <vector>

#include "engine/track/obstacle.hpp"
#include "engine/units/units.hpp"

namespace glidewright {

/// A place on the WGS-84 ellipsoid.
struct Geodetic {
  double latitude_deg = 0.0;   ///< north positive, [-90, 90]
  double longitude_deg = 0.0;  ///< east positive, [-180, 180)
};

/// One landing direction of a runway.
struct Runway {
  std::string airfield;
  std::string designator;
  Geodetic threshold;  ///< landing threshold (the displaced one where there is one), on the centreline
  Degrees true_bearing;
  Feet elevation;  ///< of the threshold, above mean sea level
  Feet length;     ///< usable for landing, from the landing threshold
  Feet width{75.0};
  Feet position_sd{5.0};       ///< how well the threshold's place is known: surveyed 5, imported 60 or more
  double slope_percent = 0.0;  ///< up in the landing direction positive
  std::vector<RunwayObstacle> obstacles = {};
};

enum class Traffic { left, right };

/// Where something is in the runway frame.
/// Origin: the touchdown point. Height is above it, by the runway's elevation there.
struct RunwayPoint {
  double along_ft = 0.0;  ///< positive beyond the point in the landing direction
  double cross_ft = 0.0;  ///< positive right of the centreline, looking along the landing direction
};

/// East-north plane touching WGS-84 at the touchdown point, turned to the runway.
/// Accuracy: distances true to 1e-6 of themselves within 5 NM; a height h above the plane moves a place by
/// h / earth radius, which is nothing here.
class RunwayFrame {
 public:
  RunwayFrame(const Runway& runway, Feet touchdown_point_past_threshold);

  RunwayPoint to_runway(Geodetic place) const;
  Geodetic to_geodetic(RunwayPoint point) const;

  const Runway& runway() const { return runway_; }
  Feet touchdown_point_past_threshold() const { return touchdown_point_; }
  /// Where the landing threshold lies in this frame: minus the touchdown point's distance.
  double threshold_along_ft() const { return -touchdown_point_.value; }
  double runway_end_along_ft() const { return runway_.length.value - touchdown_point_.value; }
  /// Elevation of the touchdown point above mean sea level, slope included.
  double point_elevation_ft() const;
  /// The runway's obstacles from the touchdown point.
  std::vector<Obstacle> obstacles() const;

 private:
  Runway runway_;
  Feet touchdown_point_;
  Geodetic origin_;
  Degrees bearing_at_point_;
};

}  // namespace glidewright

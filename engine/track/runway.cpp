#include "engine/track/runway.hpp"

#include <cmath>

#include "engine/track/geodesy.hpp"

namespace glidewright {
namespace {

struct EastNorth {
  double east_m = 0.0;
  double north_m = 0.0;
};

EastNorth to_plane(Geodetic origin, Geodetic place) {
  const auto o = earth_fixed(origin, 0.0);
  const auto p = earth_fixed(place, 0.0);
  const double dx = p[0] - o[0], dy = p[1] - o[1], dz = p[2] - o[2];
  const double phi = origin.latitude_deg * k_radians_per_degree;
  const double lambda = origin.longitude_deg * k_radians_per_degree;
  const double outward = std::cos(lambda) * dx + std::sin(lambda) * dy;
  return {-std::sin(lambda) * dx + std::cos(lambda) * dy, -std::sin(phi) * outward + std::cos(phi) * dz};
}

/// The place on the ellipsoid whose plane coordinates these are.
Geodetic from_plane(Geodetic origin, EastNorth plane) {
  const auto o = earth_fixed(origin, 0.0);
  const double phi = origin.latitude_deg * k_radians_per_degree;
  const double lambda = origin.longitude_deg * k_radians_per_degree;
  const double axial = -std::sin(phi) * plane.north_m;
  const EarthFixed point{o[0] - std::sin(lambda) * plane.east_m + std::cos(lambda) * axial,
                         o[1] + std::cos(lambda) * plane.east_m + std::sin(lambda) * axial,
                         o[2] + std::cos(phi) * plane.north_m};
  return geodetic(point);
}

}  // namespace

RunwayFrame::RunwayFrame(const Runway& runway, Feet touchdown_point_past_threshold)
    : runway_(runway), touchdown_point_(touchdown_point_past_threshold) {
  const double bearing = to_radians(runway.true_bearing).value;
  const double distance_m = to_metres(touchdown_point_past_threshold).value;
  origin_ = from_plane(runway.threshold, {distance_m * std::sin(bearing), distance_m * std::cos(bearing)});
  // Meridians converge: the same line has another true bearing at the point than at the threshold.
  const double convergence = wrap_180_deg(origin_.longitude_deg - runway.threshold.longitude_deg) *
                             std::sin(origin_.latitude_deg * k_radians_per_degree);
  bearing_at_point_ = {runway.true_bearing.value + convergence};
}

RunwayPoint RunwayFrame::to_runway(Geodetic place) const {
  const auto [east_m, north_m] = to_plane(origin_, place);
  const double bearing = to_radians(bearing_at_point_).value;
  const double s = std::sin(bearing), c = std::cos(bearing);
  return {(east_m * s + north_m * c) / k_metres_per_foot, (east_m * c - north_m * s) / k_metres_per_foot};
}

Geodetic RunwayFrame::to_geodetic(RunwayPoint point) const {
  const double bearing = to_radians(bearing_at_point_).value;
  const double s = std::sin(bearing), c = std::cos(bearing);
  return from_plane(origin_, {(point.along_ft * s + point.cross_ft * c) * k_metres_per_foot,
                              (point.along_ft * c - point.cross_ft * s) * k_metres_per_foot});
}

double RunwayFrame::point_elevation_ft() const {
  return runway_.elevation.value + touchdown_point_.value * runway_.slope_percent / 100.0;
}

std::vector<Obstacle> RunwayFrame::obstacles() const {
  const double point_above_threshold_ft = point_elevation_ft() - runway_.elevation.value;
  std::vector<Obstacle> all;
  for (const RunwayObstacle& obstacle : runway_.obstacles) {
    all.push_back({threshold_along_ft() - obstacle.before_threshold_ft, obstacle.right_ft,
                   obstacle.top_ft - point_above_threshold_ft, obstacle.what});
  }
  return all;
}

}  // namespace glidewright

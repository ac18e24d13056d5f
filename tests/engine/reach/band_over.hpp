#pragma once
// A band to test with: a trainer into the wind.

#include "engine/reach/along.hpp"
#include "engine/technique/pilot.hpp"
#include "tests/engine/plan/into_wind.hpp"

namespace glidewright {

inline BandRequest band_request(double wind_kt, double off_runway_deg = 0.0) {
  const PlanRequest plan = into_wind(wind_kt, off_runway_deg);
  BandRequest request;
  request.airplane = plan.airplane;
  request.conditions = plan.conditions;
  request.technique = plan.technique;
  request.scatter = plan.scatter;
  request.box = plan.box;
  request.region = ReachRegion::pattern(request.technique.spacing_ft, request.means);
  return request;
}

/// At taught speed, wings level. Heading still to turn to the landing direction, degrees.
inline PlaceInPattern place(double along_ft, double cross_ft, double to_turn_deg) {
  PlaceInPattern place;
  place.along_ft = along_ft;
  place.cross_ft = cross_ft;
  place.heading_rad = to_turn_deg * k_radians_per_degree;
  place.height_ft = 700.0;
  return place;
}

/// Round the pattern: downwind, base turn, base, final turn, final.
inline std::vector<PlaceInPattern> round_the_pattern(const BandRequest& request) {
  const double out = -request.technique.spacing_ft;
  return {place(0.0, out, 180.0),        place(-1500.0, out, 180.0),    place(-2400.0, out + 250.0, 135.0),
          place(-2900.0, -2100.0, 90.0), place(-2900.0, -1200.0, 90.0), place(-2700.0, -250.0, 45.0),
          place(-3000.0, 0.0, 0.0)};
}

/// The stored surface is rounded to half a foot, and two of them are read.
inline constexpr double k_rounding_ft = 1.0;

inline PlaceInPattern abeam(const BandRequest& request) {
  return place(0.0, -request.technique.spacing_ft, 180.0);
}

}  // namespace glidewright

#include "engine/track/geodesy.hpp"

#include <gtest/gtest.h>

namespace glidewright {
namespace {

double degrees(double d, double m, double s) {
  return (std::abs(d) + m / 60.0 + s / 3600.0) * (d < 0 ? -1 : 1);
}

// Geoscience Australia, GDA94 technical manual: Flinders Peak to Buninyong on GRS80, 54,972.271 m,
// azimuths 306 52 05.37 and 127 10 25.07. WGS 84 differs by less than 0.1 mm here.
TEST(Geodesy, FlindersPeakToBuninyong) {
  const Geodetic flinders{degrees(-37, 57, 3.72030), degrees(144, 25, 29.52440)};
  const Geodetic buninyong{degrees(-37, 39, 10.15610), degrees(143, 55, 35.38390)};
  const auto line = geodesic_between(flinders, buninyong);
  EXPECT_NEAR(line.distance.value, 54972.271, 0.0006);  // printed to 1 mm, and 0.1 mm of ellipsoid
  EXPECT_NEAR(line.azimuth_from.value, degrees(306, 52, 5.37), 0.005 / 3600.0 * 1.1);
  EXPECT_NEAR(line.azimuth_back.value, degrees(127, 10, 25.07), 0.005 / 3600.0 * 1.1);
}

// Recomputed by Vincenty's formula outside this project; a sphere would say 1,111.951 m for the second.
TEST(Geodesy, ShortLinesAtFortyNorth) {
  const auto diagonal = geodesic_between({40.0, -105.0}, {40.01, -104.99});
  EXPECT_NEAR(diagonal.distance.value, 1400.705, 0.001);
  EXPECT_NEAR(diagonal.azimuth_from.value, 37.5577, 0.0001);
  EXPECT_NEAR(geodesic_between({40.0, -105.0}, {40.01, -105.0}).distance.value, 1110.347, 0.001);
}

// Curvature of WGS 84 times pi/180: metres per degree of latitude and longitude at 0, 40, 60 degrees.
TEST(Geodesy, MetresPerDegree) {
  const struct {
    double latitude, north_m, east_m;
  } rows[] = {{0.0, 110574.3, 111319.5}, {40.0, 111034.6, 85393.9}, {60.0, 111412.3, 55800.0}};
  for (const auto& row : rows) {
    const double step = 0.001;
    const auto north = geodesic_between({row.latitude - step / 2, 10.0}, {row.latitude + step / 2, 10.0});
    const auto east = geodesic_between({row.latitude, 10.0}, {row.latitude, 10.0 + step});
    EXPECT_NEAR(north.distance.value / step, row.north_m, 0.6);  // Vincenty's 0.5 mm over 0.001 degree
    EXPECT_NEAR(east.distance.value / step, row.east_m, 0.6);
  }
}

TEST(Geodesy, EarthFixedAndBack) {
  for (double latitude : {-89.9, -45.0, 0.0, 31.7, 80.0}) {
    for (double longitude : {-179.5, -20.0, 0.0, 81.9, 179.5}) {
      const auto back = geodetic(earth_fixed({latitude, longitude}, 800.0));
      EXPECT_NEAR(back.latitude_deg, latitude, 1e-9);
      EXPECT_NEAR(back.longitude_deg, longitude, 1e-9);
    }
  }
}

TEST(RunwayFrame, AgreesWithTheGeodesicAndComesBack) {
  const Runway runway{.airfield = "",
                      .designator = "09",
                      .threshold = {31.0, -20.0},
                      .true_bearing = {93.0},
                      .elevation = {600.0},
                      .length = {5000.0}};
  const RunwayFrame frame(runway, Feet{1000.0});
  EXPECT_NEAR(frame.to_runway(runway.threshold).along_ft, -1000.0, 0.01);
  EXPECT_NEAR(frame.to_runway(runway.threshold).cross_ft, 0.0, 0.01);
  for (double along : {-9000.0, 0.0, 4000.0}) {
    for (double cross : {-6000.0, 0.0, 3000.0}) {
      const auto place = frame.to_geodetic({along, cross});
      const auto again = frame.to_runway(place);
      EXPECT_NEAR(again.along_ft, along, 0.02);
      EXPECT_NEAR(again.cross_ft, cross, 0.02);
      const auto line = geodesic_between(frame.to_geodetic({0.0, 0.0}), place);
      EXPECT_NEAR(to_feet(line.distance).value, std::hypot(along, cross), 0.02);
    }
  }
  // Right of the centreline of an easterly runway is south.
  EXPECT_LT(frame.to_geodetic({0.0, 1000.0}).latitude_deg, frame.to_geodetic({0.0, 0.0}).latitude_deg);
}

}  // namespace
}  // namespace glidewright

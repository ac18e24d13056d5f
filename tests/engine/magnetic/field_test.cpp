#include "engine/magnetic/field.hpp"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <cmath>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

#include "tests/where.hpp"

namespace glidewright {
namespace {

/// A point of a published table: declination to its printed hundredth of a degree, inclination too.
struct Published {
  double year, height_km, latitude_deg, longitude_deg, declination_deg, inclination_deg;
};

// WMM2025 report (NOAA NCEI and BGS), table 6, and for the last row the 100 points' test file.
TEST(MagneticField, PublishedPointsOf2025) {
  for (const Published& one : {Published{2025.0, 0, 80, 0, 1.28, 83.21},
                               {2025.0, 0, 0, 120, -0.16, -14.93},
                               {2025.0, 0, -80, 240, 68.78, -72.00},
                               {2025.0, 100, 80, 0, 0.85, 83.26},
                               {2025.0, 100, 0, 120, -0.15, -15.08},
                               {2025.0, 100, -80, 240, 68.21, -72.19},
                               {2027.5, 0, 80, 0, 2.59, 83.24},
                               {2027.5, 0, 0, 120, -0.24, -14.65},
                               {2027.5, 0, -80, 240, 68.49, -71.92},
                               {2027.5, 100, 80, 0, 2.16, 83.29},
                               {2027.5, 100, 0, 120, -0.23, -14.81},
                               {2027.5, 100, -80, 240, 67.93, -72.10},
                               {2025.5, 6, -36, -137, 20.28, -52.11}}) {
    const auto field =
        magnetic_field(k_wmm_2025, {one.latitude_deg, one.longitude_deg}, 1000.0 * one.height_km, one.year);
    EXPECT_NEAR(field.declination_deg(), one.declination_deg, 0.005) << one.year << " " << one.latitude_deg;
    EXPECT_NEAR(field.inclination_deg(), one.inclination_deg, 0.005) << one.year << " " << one.latitude_deg;
  }
}

/// A row of tests/data/magnetic/published_points.csv, which says where it was published.
struct PublishedField {
  double year, height_km, latitude_deg, longitude_deg, north_nt, east_nt, down_nt, inclination_deg,
      declination_deg;
};

std::vector<PublishedField> published_fields() {
  std::ifstream file(where::test_data() + "/magnetic/published_points.csv");
  std::vector<PublishedField> rows;
  for (std::string line; std::getline(file, line);) {
    if (line.empty() || line.front() == '#' || line.front() == 'y') continue;
    std::stringstream cells(line);
    PublishedField row{};
    char comma = 0;
    cells >> row.year >> comma >> row.height_km >> comma >> row.latitude_deg >> comma >> row.longitude_deg >>
        comma >> row.north_nt >> comma >> row.east_nt >> comma >> row.down_nt >> comma >>
        row.inclination_deg >> comma >> row.declination_deg;
    EXPECT_TRUE(cells) << line;
    rows.push_back(row);
  }
  return rows;
}

// All 100 points of either model's own table, from pole to pole, up to 100 km and over the five years.
// Tolerances are half of the last digit printed (0.01 degrees, 0.1 nT in 2020). Of 2025 six digits are
// printed: there the rounding of a sum of some hundred terms shows, and the printed north component is up to
// 0.0007 nT off the slope of its own potential (found by a complex step on the published coefficients, which
// agrees with ours to 1e-8 nT).
TEST(MagneticField, EveryPublishedPointOfBothModels) {
  const auto rows = published_fields();
  int of_2020 = 0, of_2025 = 0;
  for (const PublishedField& one : rows) {
    const MagneticModel* model = magnetic_model_of(one.year);
    ASSERT_NE(model, nullptr);
    const bool newer = model == &k_wmm_2025;
    ++(newer ? of_2025 : of_2020);
    SCOPED_TRACE(testing::Message() << one.year << " " << one.latitude_deg << " " << one.longitude_deg);
    const auto field =
        magnetic_field(*model, {one.latitude_deg, one.longitude_deg}, 1000.0 * one.height_km, one.year);
    const double half_nt = newer ? 1e-5 : 0.05 + 1e-6;
    EXPECT_NEAR(field.north_nt, one.north_nt, newer ? 1e-3 : half_nt);
    EXPECT_NEAR(field.east_nt, one.east_nt, half_nt);
    EXPECT_NEAR(field.down_nt, one.down_nt, half_nt);
    EXPECT_NEAR(field.inclination_deg(), one.inclination_deg, 0.005 + 1e-6);
    EXPECT_NEAR(field.declination_deg(), one.declination_deg, 0.005 + 1e-6);
  }
  EXPECT_EQ(of_2020, 100);
  EXPECT_EQ(of_2025, 100);
}

// Away from currents the field has a potential: whoever carries a pole round a closed way has done no work.
RC_GTEST_PROP(MagneticField, ItsWorkRoundAClosedWayIsNone, ()) {
  const double latitude = *rc::gen::inRange(-75, 75), longitude = *rc::gen::inRange(-180, 180), year = 2026.0;
  constexpr double step_deg = 0.05;
  const auto along = [&](double lat, double lon, bool north) {
    const auto field = magnetic_field(k_wmm_2025, {lat, lon}, 0.0, year);
    // Metres to a degree of the ellipsoid (WGS 84).
    const double sine = std::sin(lat * 3.14159265358979 / 180.0), e2 = 0.00669437999014;
    const double w2 = 1.0 - e2 * sine * sine, to_rad = 3.14159265358979 / 180.0;
    const double meridian_m = 6378137.0 * (1.0 - e2) / std::pow(w2, 1.5) * to_rad;
    const double parallel_m = 6378137.0 / std::sqrt(w2) * std::cos(lat * to_rad) * to_rad;
    return north ? field.north_nt * meridian_m * step_deg : field.east_nt * parallel_m * step_deg;
  };
  const double half = 0.5 * step_deg;
  const double east_side = along(latitude, longitude + half, true),
               west_side = along(latitude, longitude - half, true);
  const double north_side = along(latitude + half, longitude, false),
               south_side = along(latitude - half, longitude, false);
  const double size = std::abs(east_side) + std::abs(north_side) + 1.0;
  RC_ASSERT(std::abs(south_side + east_side - north_side - west_side) < 1e-6 * size);
}

TEST(MagneticField, OneModelFollowsTheOther) {
  EXPECT_EQ(magnetic_model_of(2019.9), nullptr);
  EXPECT_EQ(magnetic_model_of(2020.0), &k_wmm_2020);
  EXPECT_EQ(magnetic_model_of(2024.99), &k_wmm_2020);
  EXPECT_EQ(magnetic_model_of(2025.0), &k_wmm_2025);
  EXPECT_EQ(magnetic_model_of(2030.0), nullptr);
  // Forecast of five years against what came: a tenth of a degree or two in middle latitudes.
  const auto before = magnetic_field(k_wmm_2020, {48.0, 11.0}, 0.0, 2025.0).declination_deg();
  EXPECT_NEAR(before, magnetic_field(k_wmm_2025, {48.0, 11.0}, 0.0, 2025.0).declination_deg(), 0.2);
}

TEST(MagneticField, SaysNothingNearAPoleAndOutsideItsYears) {
  EXPECT_TRUE(magnetic_variation_deg({48.0, 11.0}, 2026.9));
  EXPECT_FALSE(magnetic_variation_deg({48.0, 11.0}, 2031.0));
  EXPECT_FALSE(magnetic_variation_deg({86.0, 140.0}, 2026.9));
}

}  // namespace
}  // namespace glidewright

#include "engine/reach/contours.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "tests/engine/reach/band_over.hpp"

namespace glidewright {
namespace {

/// Over the lowest edge of the best of these headings.
double over_lowest_ft(const Band& band, const PlaceOnGround& at, double height_ft) {
  double most = -1e9;
  for (double to_turn_deg = 0.0; to_turn_deg <= 180.0; to_turn_deg += 10.0) {
    PlaceInPattern place;
    place.along_ft = at.along_ft;
    place.cross_ft = at.cross_ft;
    place.height_ft = height_ft;
    place.heading_rad = band.crab_rad() + to_turn_deg * k_radians_per_degree;
    most = std::max(most, height_ft - band.room(place, Surety::mean).lowest_ft);
  }
  return most;
}

TEST(ReachContours, OutsideALineNoHeadingIsHighEnoughAndInsideItOneIs) {
  const Band band = Band::over(band_request(8.0), Surety::mean);
  const auto contours = reach_contours(band, {400.0, 600.0}, Surety::mean);
  ASSERT_EQ(contours.size(), 2U);
  for (const auto& contour : contours) {
    ASSERT_FALSE(contour.lines.empty());
    for (const auto& line : contour.lines) {
      for (const auto& at : line) {
        // The line is exact to a foot of distance: 3 ft outside and inside it.
        const double distance_ft = std::hypot(at.along_ft, at.cross_ft);
        const auto moved = [&](double by_ft) {
          const double share = 1.0 + by_ft / distance_ft;
          return over_lowest_ft(band, {at.along_ft * share, at.cross_ft * share}, contour.height_ft);
        };
        EXPECT_LT(moved(3.0), 0.0) << at.along_ft << " " << at.cross_ft;
        EXPECT_GE(moved(-3.0), 0.0) << at.along_ft << " " << at.cross_ft;
      }
    }
  }
}

TEST(ReachContours, MoreHeightReachesFromFartherOut) {
  const Band band = Band::over(band_request(8.0), Surety::mean);
  double before_ft = 0.0;
  for (const auto& contour : reach_contours(band, {400.0, 500.0, 600.0}, Surety::mean)) {
    double farthest_ft = 0.0;
    for (const auto& line : contour.lines) {
      for (const auto& at : line) farthest_ft = std::max(farthest_ft, std::hypot(at.along_ft, at.cross_ft));
    }
    // A hundred feet are some 900 ft of glide.
    EXPECT_GT(farthest_ft, before_ft + 500.0) << contour.height_ft;
    before_ft = farthest_ft;
  }
}

TEST(ReachContours, NineInTenLieWithinTheMean) {
  const Band band = Band::over(band_request(10.0, 30.0));
  const auto farthest_ft = [&](Surety surety) {
    double farthest = 0.0;
    const auto contours = reach_contours(band, {500.0}, surety);
    for (const auto& line : contours.front().lines) {
      for (const auto& at : line) farthest = std::max(farthest, std::hypot(at.along_ft, at.cross_ft));
    }
    return farthest;
  };
  EXPECT_GT(farthest_ft(Surety::nine_in_ten), 1000.0);
  EXPECT_LT(farthest_ft(Surety::nine_in_ten), farthest_ft(Surety::mean));
}

TEST(ReachContours, AreMirroredInMirroredWindAndTraffic) {
  const BandRequest left = band_request(10.0, 30.0);
  BandRequest right = band_request(10.0, -30.0);
  right.conditions.traffic = Traffic::right;
  const auto a = reach_contours(Band::over(left, Surety::mean), {500.0}, Surety::mean);
  const auto b = reach_contours(Band::over(right, Surety::mean), {500.0}, Surety::mean);
  ASSERT_FALSE(a.front().lines.empty());
  ASSERT_EQ(a.front().lines.size(), b.front().lines.size());
  for (std::size_t i = 0; i < a.front().lines.size(); ++i) {
    ASSERT_EQ(a.front().lines[i].size(), b.front().lines[i].size());
    for (std::size_t k = 0; k < a.front().lines[i].size(); ++k) {
      // Exact to a foot each.
      EXPECT_NEAR(a.front().lines[i][k].along_ft, b.front().lines[i][k].along_ft, 2.0);
      EXPECT_NEAR(a.front().lines[i][k].cross_ft, -b.front().lines[i][k].cross_ft, 2.0);
    }
  }
}

TEST(ReachContours, AHeightFromWhichNothingIsInReachHasNoLine) {
  const Band band = Band::over(band_request(5.0), Surety::mean);
  EXPECT_TRUE(reach_contours(band, {150.0}, Surety::mean).front().lines.empty());
}

}  // namespace
}  // namespace glidewright

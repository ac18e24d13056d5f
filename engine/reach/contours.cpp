#include "engine/reach/contours.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

namespace glidewright {
namespace {

constexpr double k_heading_step_deg = 10.0;
constexpr double k_bearing_step_deg = 3.0;
constexpr int k_bearings =
    61;  ///< from straight before the point round the pattern's side to straight beyond

/// The place in the pattern frame.
PlaceOnGround place_at(double distance_ft, double bearing_deg) {
  const double bearing = bearing_deg * k_radians_per_degree;
  return {-distance_ft * std::cos(bearing), -distance_ft * std::sin(bearing)};
}

/// Height over the lowest edge of the best heading: above 0 the box is in reach.
double over_lowest_ft(const Band& band, const PlaceOnGround& place, double height_ft, Surety surety) {
  double most = -1e9;
  for (double to_turn_deg = 0.0; to_turn_deg <= 180.0; to_turn_deg += k_heading_step_deg) {
    PlaceInPattern at;
    at.along_ft = place.along_ft;
    at.cross_ft = place.cross_ft;
    at.height_ft = height_ft;
    at.heading_rad = band.crab_rad() + to_turn_deg * k_radians_per_degree;
    most = std::max(most, height_ft - band.room(at, surety).lowest_ft);
  }
  return most;
}

/// As far from the point as the region goes at this bearing.
double farthest_in_region_ft(const ReachRegion& region, double bearing_deg) {
  const PlaceOnGround one = place_at(1.0, bearing_deg);
  const double along_ft = one.along_ft < 0.0 ? region.along_low_ft : region.along_high_ft;
  double farthest = 1e9;
  if (std::abs(one.along_ft) > 1e-9) farthest = along_ft / one.along_ft;
  if (std::abs(one.cross_ft) > 1e-9) farthest = std::min(farthest, region.cross_low_ft / one.cross_ft);
  return farthest;
}

/// The farthest distance with the box in reach; none where there is none, or where the region ends within
/// reach.
std::optional<double> farthest_in_reach_ft(const Band& band, double bearing_deg, double height_ft,
                                           Surety surety) {
  constexpr double step_ft = 150.0, nearest_ft = 300.0, exact_ft = 1.0;
  const auto in_reach = [&](double distance_ft) {
    return over_lowest_ft(band, place_at(distance_ft, bearing_deg), height_ft, surety) >= 0.0;
  };
  double out = farthest_in_region_ft(band.request().region, bearing_deg);
  if (in_reach(out)) return std::nullopt;
  double in = out - step_ft;
  while (in >= nearest_ft && !in_reach(in)) {
    out = in;
    in -= step_ft;
  }
  if (in < nearest_ft) return std::nullopt;
  while (out - in > exact_ft) {
    const double middle = 0.5 * (in + out);
    (in_reach(middle) ? in : out) = middle;
  }
  return 0.5 * (in + out);
}

ReachContour contour_of(double height_ft, const std::vector<std::optional<double>>& distances_ft,
                        double mirror) {
  // Between neighbours the distance changes by a tenth at most; where it jumps by a third the edge has a
  // step.
  constexpr double jump = 1.0 / 3.0;
  ReachContour contour{height_ft, {}};
  double before_ft = 0.0;
  for (int i = 0; i < k_bearings; ++i) {
    const auto& distance = distances_ft[static_cast<std::size_t>(i)];
    if (distance) {
      if (before_ft <= 0.0 || std::abs(*distance - before_ft) > jump * before_ft)
        contour.lines.emplace_back();
      PlaceOnGround place = place_at(*distance, i * k_bearing_step_deg);
      place.cross_ft *= mirror;
      contour.lines.back().push_back(place);
    }
    before_ft = distance.value_or(0.0);
  }
  // A place alone is no line.
  std::erase_if(contour.lines, [](const auto& line) { return line.size() < 2; });
  return contour;
}

}  // namespace

std::vector<ReachContour> reach_contours(const Band& band, const std::vector<double>& heights_ft,
                                         Surety surety, const ShareOut& share_out) {
  const double mirror = band.request().conditions.traffic == Traffic::right ? -1.0 : 1.0;
  std::vector<ReachContour> contours;
  for (const double height_ft : heights_ft) {
    std::vector<std::optional<double>> distances_ft(k_bearings);
    share_out(k_bearings, [&](int i) {
      distances_ft[static_cast<std::size_t>(i)] =
          farthest_in_reach_ft(band, i * k_bearing_step_deg, height_ft, surety);
    });
    contours.push_back(contour_of(height_ft, distances_ft, mirror));
  }
  return contours;
}

}  // namespace glidewright

// Where the airplane was at a given time, and the mixture of places over the times.

#include <Eigen/Cholesky>
#include <Eigen/Core>
#include <algorithm>
#include <cmath>
#include <numbers>

#include "engine/debrief/touchdown_posterior.hpp"
#include "engine/units/units.hpp"

namespace glidewright::touchdown {
namespace {

/// Receiver's slow wander and white noise together, after the local fit.
constexpr double k_receiver_sd_ft = 5.5;
/// Between the rates of a float and of braking; for times after the log's end.
constexpr double k_slowing_fps2 = 1.5 * k_fps_per_knot, k_slowing_sd_fps2 = 0.9 * k_fps_per_knot;
/// Acceleration that a straight guess across a gap misses, times gap^2 / 8.
constexpr double k_gap_acceleration_fps2 = 2.5;
constexpr double k_shortest_reach_s = 3.0;

double half_reach(const std::vector<PlaceReading>& places, double time_s) {
  std::vector<double> distance;
  distance.reserve(places.size());
  for (const PlaceReading& p : places) distance.push_back(std::abs(p.time_s - time_s));
  const std::size_t wanted = std::min<std::size_t>(4, distance.size() - 1);
  std::nth_element(distance.begin(), distance.begin() + static_cast<std::ptrdiff_t>(wanted), distance.end());
  return std::max(k_shortest_reach_s, 1.2 * distance[wanted]);
}

/// Least squares with weights that fall to zero at the reach; a weak ridge keeps few fixes solvable.
PlaceEstimate local_fit(const std::vector<PlaceReading>& places, double time_s) {
  const double reach_s = half_reach(places, time_s);
  Eigen::Matrix3d normal = Eigen::Matrix3d::Zero();
  Eigen::Matrix<double, 3, 2> right = Eigen::Matrix<double, 3, 2>::Zero();
  // Relative to the nearest fix, so that the ridge pulls towards no particular place on earth.
  const auto nearest = std::min_element(places.begin(), places.end(), [&](const auto& a, const auto& b) {
    return std::abs(a.time_s - time_s) < std::abs(b.time_s - time_s);
  });
  for (const PlaceReading& p : places) {
    const double x = (p.time_s - time_s) / reach_s;
    if (std::abs(x) >= 1.0) continue;
    const double closeness = 1.0 - std::abs(x * x * x), weight = closeness * closeness * closeness;
    const Eigen::Vector3d basis(1.0, x, x * x);
    normal += weight * basis * basis.transpose();
    right +=
        weight * basis * Eigen::RowVector2d(p.along_ft - nearest->along_ft, p.cross_ft - nearest->cross_ft);
  }
  normal.diagonal() += Eigen::Vector3d(1e-9, 1e-6, 1e-4);
  const Eigen::Matrix<double, 3, 2> fit = normal.ldlt().solve(right);
  return {nearest->along_ft + fit(0, 0), nearest->cross_ft + fit(0, 1), fit(1, 0) / reach_s,
          k_receiver_sd_ft};
}

double gap_around(const std::vector<PlaceReading>& places, double time_s) {
  const auto after = std::lower_bound(places.begin(), places.end(), time_s,
                                      [](const PlaceReading& p, double t) { return p.time_s < t; });
  if (after == places.begin() || after == places.end()) return 0.0;
  return after->time_s - std::prev(after)->time_s;
}

PlaceEstimate beyond_the_log(const std::vector<PlaceReading>& places, double time_s) {
  const double edge_s = std::clamp(time_s, places.front().time_s, places.back().time_s);
  PlaceEstimate edge = local_fit(places, edge_s);
  const double beyond_s = time_s - edge_s;
  const double slowing = beyond_s > 0.0 && edge.speed_fps > 0.0 ? k_slowing_fps2 : 0.0;
  const double run_s = slowing > 0.0 ? std::min(beyond_s, edge.speed_fps / slowing) : beyond_s;
  edge.along_ft += edge.speed_fps * run_s - 0.5 * slowing * run_s * run_s;
  edge.sd_ft = std::hypot(edge.sd_ft, 0.5 * k_slowing_sd_fps2 * beyond_s * beyond_s);
  edge.speed_fps -= slowing * run_s;
  return edge;
}

}  // namespace

PlaceEstimate place_at(const LandingEvidence& evidence, double time_s) {
  const auto& places = evidence.places;
  if (places.empty()) return {0.0, 0.0, 0.0, 3000.0};
  if (places.size() == 1) {
    const double distance_s = time_s - places.front().time_s;
    return {places.front().along_ft, places.front().cross_ft, 0.0,
            std::hypot(k_receiver_sd_ft, 110.0 * distance_s)};
  }
  if (time_s < places.front().time_s || time_s > places.back().time_s) return beyond_the_log(places, time_s);
  PlaceEstimate estimate = local_fit(places, time_s);
  const double gap_s = gap_around(places, time_s);
  estimate.sd_ft = std::hypot(estimate.sd_ft, k_gap_acceleration_fps2 * gap_s * gap_s / 8.0);
  return estimate;
}

PlaceMixture::PlaceMixture(std::vector<Part> parts) : parts_(std::move(parts)) {
  low_ft_ = high_ft_ = parts_.front().along_ft;
  for (const Part& part : parts_) {
    low_ft_ = std::min(low_ft_, part.along_ft - 6.0 * part.sd_ft);
    high_ft_ = std::max(high_ft_, part.along_ft + 6.0 * part.sd_ft);
  }
}

double PlaceMixture::probability_below(double along_ft) const {
  double sum = 0.0;
  for (const Part& part : parts_)
    sum += 0.5 * part.weight * std::erfc((part.along_ft - along_ft) / (part.sd_ft * std::numbers::sqrt2));
  return sum;
}

double PlaceMixture::quantile(double p) const {
  double low = low_ft_, high = high_ft_;
  for (int i = 0; i < 60 && high - low > 1e-9; ++i) {
    const double middle = 0.5 * (low + high);
    (probability_below(middle) < p ? low : high) = middle;
  }
  return 0.5 * (low + high);
}

std::vector<WeightedPlace> PlaceMixture::places() const {
  constexpr int k_cells = 240;
  const double from = quantile(5e-4), to = quantile(1.0 - 5e-4), step = (to - from) / k_cells;
  std::vector<WeightedPlace> all;
  double below = 0.0;
  for (int i = 0; i < k_cells; ++i) {
    const double next = i + 1 == k_cells ? 1.0 : probability_below(from + step * (i + 1));
    all.push_back({from + step * (i + 0.5), std::max(next - below, 0.0)});
    below = next;
  }
  return all;
}

PlaceMixture place_mixture(const LandingEvidence& evidence, const TimePosterior& posterior,
                           double runway_sd_ft) {
  std::vector<PlaceMixture::Part> parts;
  for (std::size_t i = 0; i < posterior.probability.size(); ++i) {
    if (posterior.probability[i] < 1e-9) continue;
    const PlaceEstimate place = place_at(evidence, posterior.time_s(i));
    // A quarter-second cell of the time grid is a stretch of runway, not a place.
    const double cell_ft = place.speed_fps * posterior.step_s / std::sqrt(12.0);
    const double clock_ft = place.speed_fps * evidence.clock_sd_s;
    parts.push_back({place.along_ft,
                     std::hypot(std::hypot(place.sd_ft, runway_sd_ft), std::hypot(cell_ft, clock_ft)),
                     posterior.probability[i]});
  }
  return PlaceMixture(std::move(parts));
}

}  // namespace glidewright::touchdown

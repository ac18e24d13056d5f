#include "engine/track/frozen_positions.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "engine/track/geodesy.hpp"

namespace glidewright {
namespace {

// Tyres on a dry runway hold 0.6 g at best; no flight path of an airplane slows down faster.
constexpr double k_hardest_braking_fps2 = 20.0;
// Positions of a standing receiver that holds and lets go again step by up to some 60 ft (common practice, no
// source).
constexpr double k_standing_step_ft = 60.0;
// Long enough that a position's noise is no speed, short enough that the airplane does the same all along.
constexpr double k_span_s = 1.0;
constexpr int k_spans = 3;
constexpr auto k_none = std::numeric_limits<std::size_t>::max();

bool repeats(const Fix& fix, const Fix& before) {
  // A receiver that loses the satellites often loses the height first.
  const bool other_height = fix.altitude_ft && before.altitude_ft && *fix.altitude_ft != *before.altitude_ft;
  return fix.place.latitude_deg == before.place.latitude_deg &&
         fix.place.longitude_deg == before.place.longitude_deg && !other_height;
}

/// Fixes that show one and the same place: from first up to the next one's first.
struct Stay {
  std::size_t first = 0;
  std::size_t last = 0;
};

std::vector<Stay> stays_of(const std::vector<Fix>& fixes) {
  std::vector<Stay> stays;
  for (std::size_t i = 0; i < fixes.size(); ++i) {
    if (stays.empty() || !repeats(fixes[i], fixes[stays.back().first])) stays.push_back({i, i});
    stays.back().last = i;
  }
  return stays;
}

class Arrivals {
 public:
  explicit Arrivals(const std::vector<Fix>& fixes) : fixes_(fixes), stays_(stays_of(fixes)) {
    span_before_.reserve(stays_.size());
    std::size_t before = 0;
    for (std::size_t k = 0; k < stays_.size(); ++k) {
      while (before < k && arrival_s(before + 1) <= arrival_s(k) - k_span_s) ++before;
      span_before_.push_back(arrival_s(before) <= arrival_s(k) - k_span_s ? before : k_none);
    }
  }

  const std::vector<Stay>& stays() const { return stays_; }

  /// How far the airplane must have gone, at least, while the log says that it stayed.
  double least_travel_ft(std::size_t stay) const {
    const double speed_fps = least_speed_fps(stay);
    if (!(speed_fps > 0.0)) return 0.0;
    const double stayed_s = fixes_[stays_[stay].last].time_unix_s - arrival_s(stay);
    const double braked_s = std::min(stayed_s, speed_fps / k_hardest_braking_fps2);
    return speed_fps * braked_s - 0.5 * k_hardest_braking_fps2 * braked_s * braked_s;
  }

 private:
  double arrival_s(std::size_t stay) const { return fixes_[stays_[stay].first].time_unix_s; }

  double distance_ft(std::size_t from, std::size_t to) const {
    const auto a = earth_fixed(fixes_[stays_[from].first].place, 0.0);
    const auto b = earth_fixed(fixes_[stays_[to].first].place, 0.0);
    return std::hypot(b[0] - a[0], b[1] - a[1], b[2] - a[2]) / k_metres_per_foot;
  }

  double speed_fps(std::size_t from, std::size_t to) const {
    return distance_ft(from, to) / (arrival_s(to) - arrival_s(from));
  }

  /// On arrival, by the slowest of the stretches before it and of all of them together, had it braked
  /// meanwhile.
  double least_speed_fps(std::size_t stay) const {
    double slowest_fps = std::numeric_limits<double>::max();
    std::size_t to = stay;
    for (int span = 0; span < k_spans; ++span) {
      const std::size_t from = span_before_[to];
      if (from == k_none) return 0.0;
      slowest_fps = std::min(slowest_fps, speed_fps(from, to));
      to = from;
    }
    const double last_span_s = arrival_s(stay) - arrival_s(span_before_[stay]);
    return std::min(slowest_fps, speed_fps(to, stay)) - 0.5 * k_hardest_braking_fps2 * last_span_s;
  }

  const std::vector<Fix>& fixes_;
  std::vector<Stay> stays_;
  std::vector<std::size_t> span_before_;  ///< of each stay: the latest that began a span earlier
};

}  // namespace

std::vector<FrozenFixes> frozen_fixes(const std::vector<Fix>& fixes) {
  const auto repeated = std::adjacent_find(fixes.begin(), fixes.end(),
                                           [](const Fix& a, const Fix& b) { return repeats(b, a); });
  if (repeated == fixes.end()) return {};
  std::vector<FrozenFixes> frozen;
  const Arrivals arrivals(fixes);
  for (std::size_t k = 0; k < arrivals.stays().size(); ++k) {
    const Stay& stay = arrivals.stays()[k];
    if (stay.last > stay.first && arrivals.least_travel_ft(k) > k_standing_step_ft)
      frozen.push_back({stay.first + 1, stay.last});
  }
  return frozen;
}

}  // namespace glidewright

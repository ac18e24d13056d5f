#include "engine/track/height_unit.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

#include "engine/units/words.hpp"

namespace glidewright {
namespace {

// A slip with full flap against wind comes down 1 in 4; nobody lands from flatter than half a path of 3
// degrees, or flies circuits below 430 ft. What powered and power-off approaches of airplanes and gliders
// have in common (no source).
constexpr double k_steepest = 0.27, k_flattest = 0.03;
constexpr double k_lowest_circuit_ft = 430.0, k_usual_circuit_from_ft = 600.0, k_usual_circuit_to_ft = 1500.0;
// Heights above the ellipsoid differ by up to 350 ft from those above the sea, a receiver's by 65 ft more.
constexpr double k_at_the_runway_ft = 420.0, k_elsewhere_ft = 840.0;
constexpr double k_flying_kt = 35.0;
constexpr double k_last_minute_s = 60.0, k_shortest_approach_s = 30.0, k_in_the_air_s = 120.0;

bool over_runway(const TrackState& s, const RunwayFrame& frame) {
  constexpr double k_beside_ft = 150.0, k_before_ft = 300.0;
  return std::abs(s.cross_ft) < k_beside_ft && s.along_ft > frame.threshold_along_ft() - k_before_ft &&
         s.along_ft < frame.runway_end_along_ft() + k_before_ft;
}

/// Height lost for each foot flown in the last minute before coming over the runway low, for each time that
/// happens.
std::vector<double> last_minutes(const SmoothTrack& track, const RunwayFrame& frame) {
  std::vector<double> slopes;
  const auto& states = track.states;
  for (std::size_t i = 1; i < states.size(); ++i) {
    if (!over_runway(states[i], frame) || over_runway(states[i - 1], frame)) continue;
    double flown_ft = 0.0;
    std::size_t from = i;
    while (from > 0 && states[i].time_unix_s - states[from - 1].time_unix_s <= k_last_minute_s &&
           states[from - 1].groundspeed_kt() > k_flying_kt) {
      --from;
      flown_ft += std::hypot(states[from + 1].along_ft - states[from].along_ft,
                             states[from + 1].cross_ft - states[from].cross_ft);
    }
    if (states[i].time_unix_s - states[from].time_unix_s < k_shortest_approach_s) continue;
    const double begins_ft = states[from].height_ft, ends_ft = states[i].height_ft;
    // Whoever passes overhead comes to no runway.
    if (begins_ft > 0.0 && ends_ft < 0.35 * begins_ft) slopes.push_back((begins_ft - ends_ft) / flown_ft);
  }
  return slopes;
}

double median(std::vector<double> values) {
  const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::nth_element(values.begin(), middle, values.end());
  return *middle;
}

bool lands_like_a_flight(double slope) {
  return slope >= k_flattest && slope <= k_steepest;
}

/// Highest above the runway, where the airplane flew for long enough to have made a circuit.
std::optional<double> highest_of_a_circuit_ft(const SmoothTrack& track) {
  double highest_ft = 0.0, flying_s = 0.0;
  for (std::size_t i = 1; i < track.states.size(); ++i) {
    const TrackState& s = track.states[i];
    if (s.groundspeed_kt() < k_flying_kt) continue;
    flying_s += s.time_unix_s - track.states[i - 1].time_unix_s;
    highest_ft = std::max(highest_ft, s.height_ft);
  }
  if (flying_s < k_in_the_air_s) return std::nullopt;
  return highest_ft;
}

/// Where the log rolls on the runway, against the runway's own elevation.
struct Ground {
  double rolls_at_ft = 0.0;
  double runway_at_ft = 0.0;
  bool agrees(double factor) const {
    return std::abs(factor * rolls_at_ft - runway_at_ft) < k_at_the_runway_ft;
  }
  bool contradicts(double factor) const {
    return std::abs(factor * rolls_at_ft - runway_at_ft) > k_elsewhere_ft;
  }
};

std::string ground_words(const Ground& ground) {
  return words("the airplane rolls at %.0f ft where the runway lies at %.0f ft", ground.rolls_at_ft,
               ground.runway_at_ft);
}

}  // namespace

std::optional<HeightUnitDoubt> doubt_height_unit(const TrackLog& log, const SmoothTrack& track,
                                                 const RunwayFrame& frame, RunwayElevation elevation) {
  const bool read_as_metres = log.heights_in == HeightUnit::metres;
  const HeightUnit rather = read_as_metres ? HeightUnit::feet : HeightUnit::metres;
  const double factor = read_as_metres ? k_metres_per_foot : 1.0 / k_metres_per_foot;
  if (!track.height_zeroed_on_ground) return std::nullopt;
  const auto slopes = last_minutes(track, frame);
  if (slopes.empty()) return std::nullopt;
  const double slope = median(slopes);
  if (!lands_like_a_flight(factor * slope)) return std::nullopt;
  const bool known = elevation == RunwayElevation::known;
  const Ground ground{frame.point_elevation_ft() - track.height_shift_ft, frame.point_elevation_ft()};
  if (known && ground.agrees(1.0) && ground.contradicts(factor)) return std::nullopt;
  if (known && ground.contradicts(1.0) && ground.agrees(factor))
    return HeightUnitDoubt{rather, "as they are, " + ground_words(ground)};
  if (read_as_metres && slope > k_steepest)
    return HeightUnitDoubt{
        rather,
        words("as they are, the last minute before landing falls 1 ft in %.1f ft flown", 1.0 / slope)};
  const auto highest_ft = highest_of_a_circuit_ft(track);
  if (!read_as_metres && highest_ft && *highest_ft < k_lowest_circuit_ft &&
      factor * *highest_ft > k_usual_circuit_from_ft && factor * *highest_ft < k_usual_circuit_to_ft)
    return HeightUnitDoubt{
        rather,
        words("as they are, the airplane is never higher than %.0f ft above the runway", *highest_ft)};
  return std::nullopt;
}

}  // namespace glidewright

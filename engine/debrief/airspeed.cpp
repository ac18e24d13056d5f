#include "engine/debrief/airspeed.hpp"

#include <cmath>

namespace glidewright {

WindProfile wind_profile(const WindEstimate& estimate) {
  WindProfile profile;
  profile.at_10m = {Degrees{estimate.from_true_deg}, Knots{estimate.speed_kt}};
  profile.power_law_exponent = estimate.exponent;
  return profile;
}

double AirOfTrack::calibrated_kt(const TrackState& state) const {
  const auto [headwind, from_right] = components(wind.at(Feet{state.height_ft}), Degrees{runway_true_deg});
  const double along = state.along_fps + to_feet_per_second(headwind).value;
  const double cross = state.cross_fps + to_feet_per_second(from_right).value;
  const double speed_fps = std::sqrt(along * along + cross * cross + state.climb_fps * state.climb_fps);
  return to_knots(FeetPerSecond{speed_fps}).value * std::sqrt(density_ratio);
}

std::optional<MeanAirspeed> mean_airspeed(const SmoothTrack& track, const AirOfTrack& air, double from_unix_s,
                                          double to_unix_s) {
  if (to_unix_s - from_unix_s < 2.0) return std::nullopt;
  if (const auto recorded = air.recorded.mean_kt(from_unix_s, to_unix_s))
    return MeanAirspeed{*recorded, true};
  double sum = 0.0;
  int count = 0;
  for (double t = from_unix_s; t <= to_unix_s; t += 1.0, ++count) sum += air.calibrated_kt(track.at(t));
  return MeanAirspeed{sum / count, false};
}

std::optional<double> descends_through(const SmoothTrack& track, double height_ft, double from_unix_s) {
  for (double t = from_unix_s; t < from_unix_s + 120.0; t += 0.5) {
    if (track.at(t).height_ft <= height_ft) return t;
  }
  return std::nullopt;
}

}  // namespace glidewright

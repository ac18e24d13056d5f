#pragma once
// Airspeed of a track: ground velocity less the wind that was found.

#include "engine/debrief/wind.hpp"
#include "engine/track/runway.hpp"
#include "engine/track/smooth.hpp"

namespace glidewright {

/// The estimate as a profile over height.
WindProfile wind_profile(const WindEstimate& estimate);

/// What turns a track into airspeeds.
struct AirOfTrack {
  WindProfile wind;
  double runway_true_deg = 0.0;
  double density_ratio = 1.0;

  /// Calibrated, kt.
  double calibrated_kt(const TrackState& state) const;
};

/// Mean calibrated airspeed between two moments, sampled every second. None when the stretch is shorter than
/// 2 s.
std::optional<double> mean_calibrated_kt(const SmoothTrack& track, const AirOfTrack& air, double from_unix_s,
                                         double to_unix_s);

/// First moment after `from` at which the height is at or below `height_ft`; none within 120 s.
std::optional<double> descends_through(const SmoothTrack& track, double height_ft, double from_unix_s);

}  // namespace glidewright

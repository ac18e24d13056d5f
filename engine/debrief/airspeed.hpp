#pragma once
// Airspeed of a track: as the panel wrote it, else ground velocity less the wind that was found.

#include "engine/debrief/wind.hpp"
#include "engine/track/recorded_airspeed.hpp"
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
  RecordedAirspeed recorded;

  /// Calibrated, kt, from ground velocity and wind.
  double calibrated_kt(const TrackState& state) const;
};

struct MeanAirspeed {
  double calibrated_kt = 0.0;
  bool recorded = false;  ///< by the panel; else from ground velocity and wind

  /// How far it may be off: as a panel's is, or as the wind is known.
  double sd_kt(double by_wind_sd_kt) const { return recorded ? k_recorded_sd_kt : by_wind_sd_kt; }
  static constexpr double k_recorded_sd_kt = 1.5;  ///< position error: common practice, no source
};

/// Mean between two moments. None when the stretch is shorter than 2 s.
std::optional<MeanAirspeed> mean_airspeed(const SmoothTrack& track, const AirOfTrack& air, double from_unix_s,
                                          double to_unix_s);

/// First moment after `from` at which the height is at or below `height_ft`; none within 120 s.
std::optional<double> descends_through(const SmoothTrack& track, double height_ft, double from_unix_s);

}  // namespace glidewright

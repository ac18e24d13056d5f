#pragma once
// What a track log holds about one landing, cut out and put in order for the touchdown posterior.

#include <optional>
#include <vector>

#include "engine/debrief/touchdown.hpp"

namespace glidewright::touchdown {

// Times in this folder's inner parts are seconds after the rough time: a Unix time in a double has only 0.2
// us.

/// A recorded position in the runway frame.
struct PlaceReading {
  double time_s = 0.0;
  double along_ft = 0.0;
  double cross_ft = 0.0;
};

/// Height above the runway's surface as recorded, with an unknown constant offset; slope removed.
struct HeightReading {
  double time_s = 0.0;
  double height_ft = 0.0;
  double white_sd_ft = 0.0;  ///< independent from reading to reading
};

/// Mean ground speed along the runway between two moments.
struct SpeedReading {
  double from_s = 0.0;
  double to_s = 0.0;
  double mean_fps = 0.0;

  double middle_s() const { return 0.5 * (from_s + to_s); }
};

/// Nose above the horizon as the panel recorded it.
struct PitchReading {
  double time_s = 0.0;
  double pitch_deg = 0.0;
};

/// Headwind along the runway on short final: true airspeed less ground speed.
struct SeenHeadwind {
  double headwind_kt = 0.0;
  double sd_kt = 1.0;
};

enum class SpeedSource { position_differences, recorded_groundspeed };

struct SlowError {
  double sd_ft = 0.0;
  double correlation_s = 1.0;
};

struct LandingEvidence {
  std::vector<PlaceReading> places;         ///< every fix within a minute, for the place at a given time
  std::vector<HeightReading> heights;       ///< below about 75 ft, and the rollout
  std::vector<SpeedReading> speeds;         ///< consecutive, from the same window
  std::vector<PitchReading> pitches;        ///< from the same window; empty without a panel
  std::optional<double> rolling_pitch_deg;  ///< three wheels on the ground
  std::optional<SeenHeadwind> seen_headwind;
  SpeedSource speed_source = SpeedSource::position_differences;
  double place_white_sd_ft = 1.0;   ///< of one end of a position difference
  double speed_white_sd_fps = 0.0;  ///< of one recorded reading
  SlowError height_wander;
  SlowError place_wander;
  double height_offset_sd_ft = 30.0;  ///< prior of the unknown constant in the heights
  double clock_sd_s = 0.0;            ///< between the clocks of what shows the touchdown and of the positions
  std::optional<double> rolling_from_s;  ///< clearly slower than it flew, on the runway

  double earliest_s = -25.0;  ///< the wheels touched within [earliest, latest]
  double latest_s = 25.0;
  double log_end_s = 0.0;
  double interval_s = 1.0;     ///< median, between fixes
  double largest_gap_s = 0.0;  ///< between fixes, where the wheels may have touched

  bool altitude_recorded = false;
  bool barometer_used = false;
  bool approach_seen = false;  ///< the descent through 16 ft above the rollout
  bool rollout_seen = false;   ///< slowed down on the ground
  bool accelerated_again = false;
  bool log_ends_early = false;  ///< before it had slowed down
  bool moved = true;
};

LandingEvidence gather_evidence(const TrackLog& log, const RunwayFrame& frame, const SmoothTrack& track,
                                double rough_time_unix_s, const TouchdownPrior& prior);

}  // namespace glidewright::touchdown

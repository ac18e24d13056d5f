#pragma once
// An attempt to be played back: what was flown, moment by moment, and where each moment led.

#include <optional>
#include <vector>

#include "engine/debrief/debrief.hpp"

namespace glidewright {

/// How far ahead somebody who flies a pattern is asked to look.
inline constexpr double k_look_ahead_s = 20.0;

/// Where a moment leads when nothing about it is changed.
struct LookAhead {
  double along_ft = 0.0;
  double cross_ft = 0.0;
  double height_ft = 0.0;   ///< of the wheels above the point; 0 where the ground comes first
  double covered_ft = 0.0;  ///< way over the ground until then
};

/// The same ground speed, the same rate of turn over the ground and the same sink for so many seconds: an
/// arc.
///
/// Accuracy: of the formula, rounding. A rate of turn read from positions once a second is unsure by about
/// half a degree a second, which bends 2,000 ft by some 180 ft.
LookAhead look_ahead(const TrackState& now, double seconds = k_look_ahead_s);

/// One moment of an attempt, in the runway frame.
struct ReplayMoment {
  double time_s = 0.0;  ///< after the replay's zero
  double along_ft = 0.0;
  double cross_ft = 0.0;
  double height_ft = 0.0;  ///< of the wheels above the point, not below 0
  double to_go_ft = 0.0;   ///< way over the ground to the replay's end point; negative beyond it
  double groundspeed_kt = 0.0;
  double course_true_deg = 0.0;  ///< [0, 360)
  double bank_deg = 0.0;         ///< right positive; 0 once the wheels are down
  double place_sd_ft = 0.0;      ///< of along and of cross, each
  double height_sd_ft = 0.0;
  std::optional<LookAhead> ahead;  ///< none once the wheels are down
  std::optional<Room>
      in_reach;  ///< nine in ten winds and airplanes; from abeam to the gate, where there is a band
};

struct Replay {
  double zero_unix_s = 0.0;  ///< abeam; the attempt's beginning where abeam is not in the log
  std::vector<ReplayMoment> flown;
  std::vector<ReplayMoment> planned;  ///< the plan as it would have gone; only place, height and way to go
};

/// Once a second from a few seconds before abeam to the end of the roll, or of the climb away. The way to go
/// is counted to the touchdown, else to the lowest point of a go-around, else to the end. Moments of which
/// the log shows no height are left out.
Replay replay_of(const AttemptDebrief& one, const Debrief& debrief);

}  // namespace glidewright

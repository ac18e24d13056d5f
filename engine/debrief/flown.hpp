#pragma once
// What was flown, in the words of the technique: the numbers that a counterfactual flight switches one by
// one.

#include <optional>
#include <string>
#include <vector>

#include "engine/debrief/airspeed.hpp"
#include "engine/debrief/marks.hpp"
#include "engine/debrief/touchdown.hpp"
#include "engine/technique/approach.hpp"
#include "engine/track/attempts.hpp"

namespace glidewright {

/// A number read from the track and how far it may be off.
struct Read {
  double value = 0.0;
  double sd = 0.0;
};

/// One attempt as flown. Speeds calibrated. Place of the go-around stands for the gate where there is none.
struct AttemptAsFlown {
  double pattern_height_ft = 1000.0;
  double spacing_ft = 3038.0;
  double pattern_speed_kt = 85.0;
  std::optional<Read> idle_s;  ///< after abeam; none when the log does not show it
  Read base_turn_s;            ///< after abeam
  double base_turn_bank_deg = 30.0;
  double final_turn_bank_deg = 30.0;
  double base_course_deg = 0.0;              ///< cut towards the threshold positive
  std::optional<double> final_turn_room_ft;  ///< from the centreline at the roll-in
  Read base_speed_kt;
  Read final_speed_kt;
  Read short_final_speed_kt;
  Read touchdown_speed_kt;
  bool airspeed_recorded =
      false;  ///< by the panel; else speeds are ground speeds less the wind and err with it
  std::optional<std::vector<FlapStep>> flaps;  ///< none: this log does not show the flaps
  bool slip_known = false;                     ///< marked, or seen in the recorded heading
  std::optional<SlipStep> slip;                ///< none: none was flown
  double check_height_ft = 200.0;              ///< where the model is brought to the flown place
  double check_along_ft = 0.0;
};

/// Reads it, marks before what the panel wrote; none where abeam, base turn and a place on final are not all
/// there.
std::optional<AttemptAsFlown> read_flown(const Attempt& attempt, const std::optional<Touchdown>& touchdown,
                                         const SmoothTrack& track, const TrackLog& log, const AirOfTrack& air,
                                         const WindEstimate& wind, const Technique& planned,
                                         const AttemptMarks* marks = nullptr);

}  // namespace glidewright

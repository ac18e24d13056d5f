#pragma once
// What somebody who was there adds to a log: where the wheels were seen to touch, when, flaps, who flew.

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "engine/debrief/touchdown.hpp"
#include "engine/progress/flown_by.hpp"
#include "engine/technique/technique.hpp"
#include "engine/track/attempts.hpp"

namespace glidewright {

/// Where the wheels were seen to touch. Counting runway stripes from the seat is good to about 25 ft: common
/// practice, no source.
struct SeenPlace {
  double along_ft = 0.0;  ///< past the point; negative short of it
  double sd_ft = 25.0;
};

/// A moment by the log's clock, or after abeam.
struct MarkedMoment {
  std::optional<double> time_unix_s;
  double after_abeam_s = 0.0;  ///< where no time is given
};

/// A moment at which the wheels touched: a video frame, a call on the radio.
struct MarkedTouchdown {
  MarkedMoment at;
  double sd_s = 0.2;
};

struct MarkedFlap {
  double setting_deg = 0.0;
  MarkedMoment at;
};

/// A forward slip, from rudder in to rudder out.
struct MarkedSlip {
  MarkedMoment in;
  MarkedMoment out;
};

/// What no log sees, as a question to tick within a minute after the landing.
struct ChecklistQuestion {
  std::string_view name;   ///< in files
  std::string_view asked;  ///< on paper
  std::string_view yes;    ///< what a yes says afterwards
  std::string_view no;
};

/// Asked of every landing. In the order in which they come up in flight.
inline constexpr std::array<ChecklistQuestion, 7> k_checklist{
    {{"powerplant_warmed", "Engine warmed on the way down?", "engine warmed", "engine not warmed"},
     {"checks_done", "Checks done before the landing?", "checks done", "checks not done"},
     {"extended_for_traffic", "Downwind or base extended for traffic?", "extended for traffic",
      "not extended for traffic"},
     {"stall_warner", "Stall warner heard before the wheels touched?", "stall warner heard",
      "stall warner not heard"},
     {"floated", "Floated before the wheels touched?", "floated", "did not float"},
     {"aligned", "Nose along the centreline at touchdown?", "aligned", "not aligned"},
     {"drifting", "Drifting sideways at touchdown?", "drifting", "no drift"}}};

/// An answer to each question; none where nobody ticked.
using Checklist = std::array<std::optional<bool>, k_checklist.size()>;

/// Marks of one attempt; whatever nobody marked is empty.
struct AttemptMarks {
  int attempt = 0;  ///< its index in the log, from 1
  std::optional<SeenPlace> touchdown_seen;
  std::optional<MarkedTouchdown> touchdown_at;
  std::optional<MarkedMoment> idle;
  std::optional<std::vector<MarkedFlap>> flaps;  ///< empty list: no flap was set
  std::optional<std::vector<MarkedSlip>> slips;  ///< empty list: no slip was flown
  std::optional<FlownBy> flown_by;
  Checklist checklist;
  bool go_around_forced = false;  ///< by traffic or a call, not by the approach
  std::string note;
  std::string marked_by;

  bool moves_touchdown() const { return touchdown_seen || touchdown_at; }
};

/// None where the attempt has no marks.
const AttemptMarks* marks_of(const std::vector<AttemptMarks>& marks, int attempt);

/// The moment by the log's clock; none where it counts from an abeam that the log does not show.
std::optional<double> time_of(const MarkedMoment& moment, const Attempt& attempt);

/// The touchdown as seen: the seen place as a normal distribution, when and how fast the track passed it, and
/// the log's own drift.
Touchdown touchdown_seen(const SeenPlace& seen, const Touchdown& from_log, const SmoothTrack& track);

/// Sentence for when eye and log exclude each other; empty otherwise.
std::string disagreement(const SeenPlace& seen, const Touchdown& from_log);

/// Flaps at the heights at which they were marked, in marked order.
std::vector<FlapStep> flaps_as_marked(const std::vector<MarkedFlap>& flaps, const Attempt& attempt,
                                      const SmoothTrack& track);

/// The setting that was out at a moment by these marks; 0 before the first.
double flap_marked_deg(const std::vector<MarkedFlap>& flaps, const Attempt& attempt, double time_unix_s);

/// When a slip was in, from and to.
struct SlipSpan {
  double from_unix_s = 0.0;
  double to_unix_s = 0.0;
};
/// The slips as one, in at the height of the first and as much height long as all of them together; none
/// where none was flown.
std::optional<SlipStep> slips_as_one(const std::vector<SlipSpan>& slips, const SmoothTrack& track);
/// The same from marks; one whose moments are not known, or out of order, is left out.
std::optional<SlipStep> slip_as_marked(const std::vector<MarkedSlip>& slips, const Attempt& attempt,
                                       const SmoothTrack& track);

/// A runway whose place is known badly, moved along by what was seen on it. `from_log` was located on this
/// runway.
Runway moved_by_what_was_seen(const RunwayFrame& frame, const SeenPlace& seen, const Touchdown& from_log);

}  // namespace glidewright

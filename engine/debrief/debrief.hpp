#pragma once
// The whole debrief of one log: attempts, touchdowns, verdicts, causes. A value; the apps show it.

#include <optional>
#include <string>
#include <vector>

#include "engine/accelerometer/clock.hpp"
#include "engine/debrief/marks.hpp"
#include "engine/debrief/standard.hpp"
#include "engine/debrief/touchdown.hpp"
#include "engine/debrief/wind.hpp"
#include "engine/plan/plan.hpp"
#include "engine/reach/along.hpp"
#include "engine/reach/contours.hpp"
#include "engine/track/attempts.hpp"
#include "engine/track/log.hpp"

namespace glidewright {

struct LogQuality {
  std::string grade;  ///< "good", "fair", "poor"
  std::vector<std::string> notes;
};

/// Something to know before any score.
struct Finding {
  enum class Weight { note, finding } weight = Weight::note;
  std::string sentence;
};

/// One cause of the miss, in feet of runway.
struct Cause {
  std::string cause;  ///< "base turn", "wind and airplane", ...
  double effect_ft = 0.0;
  double low95_ft = 0.0;
  double high95_ft = 0.0;
  std::string sentence;
  bool undecided() const { return low95_ft <= 0.0 && high95_ft >= 0.0; }
};

struct Causes {
  double planned_touchdown_ft = 0.0;
  std::vector<Cause> causes;  ///< in flown order
  double unexplained_ft = 0.0;
  double unexplained_low95_ft = 0.0;
  double unexplained_high95_ft = 0.0;
  std::string plan_basis;           ///< which plan the causes are measured against
  std::string not_offered_because;  ///< reason when causes is empty
};

struct Stability {
  enum class Stable { yes, no, cannot_tell } stable = Stable::cannot_tell;
  std::vector<std::string> reasons;
};

struct Airmanship {
  std::string verdict;  ///< "sound", "one decision to talk about", ...
  std::vector<std::string> reasons;
};

/// What an accelerometer's log was worth for one landing.
struct FeltLanding {
  std::optional<double> clock_ahead_s, clock_sd_s;  ///< of the log's clock, and how sure; none: not found
  double bounce_probability = 0.0;
  std::string left_out_because;  ///< empty: used
};

/// An accelerometer's log as it was given, and which clock wrote it.
struct Accelerometer {
  AccelerometerLog log;
  ClockWish clock;
};

struct AttemptDebrief {
  Attempt attempt;
  std::optional<Touchdown> touchdown;  ///< none for a go-around or an unfinished attempt
  /// What the log alone says, where a mark stands in its place.
  std::optional<Touchdown> touchdown_from_log;
  /// What positions and panel say, where an accelerometer has narrowed it.
  std::optional<Touchdown> touchdown_from_positions;
  std::optional<FeltLanding> felt;  ///< with an accelerometer, where it landed
  std::optional<AttemptMarks> marks;
  std::optional<Touchdown> projected_touchdown;  ///< of a go-around: "would have"
  std::optional<Stability> gate_stability;       ///< with a gate
  std::vector<Finding> findings;
  std::vector<Grade> grades;
  Airmanship airmanship;
  Causes causes;
  /// The plan flown in the air it was made for, with its trace; where there was a plan.
  std::optional<Approach> planned;
  /// What could still be reached along the way; see add_bands.
  std::optional<BandAlong> band;
  /// From above: where it was out of reach, unless one wind of ten is left out; see add_bands.
  std::vector<ReachContour> in_reach_from;
  std::string
      lesson;  ///< one line: earliest cheap fix, next cue, what would show that it worked; may be empty
};

/// Several attempts seen together; see session_of.
struct Session {
  int attempts = 0;                  ///< that have causes
  std::vector<std::string> changes;  ///< a sentence from each to the next
  std::string recommendation;
  std::string cause;  ///< that it is about; empty where no decision leans one way
  double mean_ft = 0.0, low95_ft = 0.0, high95_ft = 0.0;  ///< of that cause
};

/// A plan that was made before the flight, for its own runway, airplane and weight.
struct SavedPlan {
  WindProfile wind;
  Technique technique;  ///< as chosen: flaps, place steered to, pattern
  double cue_s = 10.0;
  std::string words;  ///< what it was, for people: "base turn 12 s past abeam in 270° 10 kt"
};

struct DebriefRequest {
  TrackLog log;
  std::optional<Accelerometer> accelerometer;
  std::optional<Runway> runway;  ///< none: found in the log
  Feet touchdown_point{1000.0};
  std::optional<Traffic> traffic;
  Airplane airplane;
  std::optional<WindProfile> reported_wind;
  std::optional<double> weight_lb;
  std::optional<double> temperature_c;
  std::optional<double> altimeter_hpa;
  std::vector<Standard> standards;
  std::vector<AttemptMarks> marks;
  std::optional<SavedPlan> plan;  ///< what causes are measured against; none: one for what was flown abeam
};

/// What the whole log shares, as far as it is not the track's own.
struct FlownDay {
  double weight_lb = 0.0;
  double density_ratio = 1.0;
  Technique technique;  ///< as taught for this airplane, weight and gust
};

struct Debrief {
  TrackLog log;
  LogQuality quality;
  RunwayFrame frame;
  SmoothTrack track;
  WindEstimate wind;
  Box box;  ///< of the first standard that has one
  FlownDay day;
  std::vector<AttemptDebrief> attempts;
  std::optional<Session> session;    ///< none with fewer than two attempts explained
  std::vector<std::string> assumed;  ///< what was not given, and what was taken instead
  std::vector<std::string> cautions;
};

/// A debrief, or why there can be none ("no part of this log comes within 5 NM of the runway").
struct DebriefAnswer {
  std::optional<Debrief> debrief;
  std::string reason;
};

DebriefAnswer make_debrief(const DebriefRequest& request);

}  // namespace glidewright

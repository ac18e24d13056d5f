#pragma once
// From smoothed positions to attempts: what was flown, when, and where each key point lies.

#include <optional>
#include <string>
#include <vector>

#include "engine/track/log.hpp"
#include "engine/track/runway.hpp"
#include "engine/track/smooth.hpp"

namespace glidewright {

enum class AttemptKind { power_off, power_assisted, unknown };
enum class Outcome { landed, touch_and_go, stop_and_go, go_around, unfinished };

/// The wheels came down, whatever followed.
inline bool landed(Outcome outcome) {
  return outcome == Outcome::landed || outcome == Outcome::touch_and_go || outcome == Outcome::stop_and_go;
}

/// One moment of an attempt, read from the smoothed track.
struct KeyPoint {
  double time_unix_s = 0.0;
  double time_sd_s = 0.0;
  RunwayPoint place;
  double height_ft = 0.0;  ///< of the wheels above the touchdown point
  double height_sd_ft = 0.0;
  double groundspeed_kt = 0.0;
  double climb_fpm = 0.0;
  double course_true_deg = 0.0;

  /// Past abeam, square to the runway (positive after the point has been passed on downwind).
  double distance_past_abeam_ft() const { return -place.along_ft; }
};

/// Steepest bank of one turn, from turn rate and airspeed, with its 95 % interval.
struct BankEstimate {
  double bank_deg = 0.0;
  double low95_deg = 0.0;
  double high95_deg = 0.0;
  /// Mean from full bank to the beginning of the roll-out; none where the turn was over sooner.
  std::optional<double> held_deg;
};

struct Attempt {
  int index = 0;  ///< from 1, in flown order
  AttemptKind kind = AttemptKind::unknown;
  Outcome outcome = Outcome::unfinished;
  Traffic traffic = Traffic::left;
  double start_time_unix_s = 0.0;  ///< first fix that belongs to the attempt: 30 s before abeam, or its first
  double end_time_unix_s = 0.0;    ///< rollout ended, climbed away, or the log ended

  std::optional<KeyPoint> abeam;       ///< passing the touchdown point on downwind
  std::optional<KeyPoint> idle;        ///< break in specific energy, or the panel's rpm
  std::optional<KeyPoint> base_turn;   ///< start of the roll-in (10 degrees of bank come 1.4-1.9 s later)
  std::optional<KeyPoint> base;        ///< wings level on base; none in a continuous turn
  std::optional<KeyPoint> final_turn;  ///< start of the roll-in
  std::optional<KeyPoint> final_leg;   ///< wings level on final
  std::optional<KeyPoint> gate;        ///< first passing of 200 ft on final
  std::optional<KeyPoint> flare;       ///< sink begins to be arrested, rough
  std::optional<KeyPoint> go_around;   ///< lowest point of an approach that climbed away
  std::optional<double> landing_time_unix_s;  ///< rough: wheels down within about 25 s of this
  std::optional<BankEstimate> base_turn_bank;
  std::optional<BankEstimate> final_turn_bank;
  std::vector<std::string> notes;  ///< what the log could not show, in plain words

  /// Moment from which its times count: abeam, or its beginning where abeam is not in the log.
  double zero_unix_s() const { return abeam ? abeam->time_unix_s : start_time_unix_s; }
};

/// Every pattern in the log that ends in a landing, a go-around or the end of the log.
///
/// Straight-in arrivals are attempts without abeam and base turn. Kind: power-off where specific energy falls
/// from abeam on as a glide would (or rpm says so), power-assisted where it clearly does not, else unknown.
std::vector<Attempt> find_attempts(const SmoothTrack& track, const TrackLog& log, const RunwayFrame& frame);

/// Runway as the log itself shows it: the line of its fastest straight run on the ground.
/// The threshold is then only a guess (position_sd says so). None where nothing rolled on a straight line.
std::optional<Runway> runway_from_log(const TrackLog& log);

}  // namespace glidewright

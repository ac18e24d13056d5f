#pragma once
// A desk flight: the approach of the model with somebody's hands on it, from downwind to the wheels.
//
// The hands ask for bank, airspeed, flaps and a slip; the throttle closes abeam the point, and the flare is
// the model pilot's. The same hands give the same flight to the last bit, so a list of them is all that is
// kept of one: it is flown anew from its beginning whenever it goes on.

#include <optional>
#include <vector>

#include "engine/technique/approach.hpp"

namespace glidewright {

/// Level on downwind before the point is abeam: time to look. Common practice, no source.
inline constexpr double k_desk_before_abeam_s = 15.0;
/// Steeper than that the hands do not bank. Common practice, no source.
inline constexpr double k_desk_steepest_deg = 45.0;

/// What they ask for until they ask for something else.
struct DeskHands {
  double bank_deg = 0.0;  ///< right positive
  double calibrated_airspeed_kt =
      70.0;                ///< by pitch; taken within what the airplane flies safely, see DeskLimits
  double flap_deg = 0.0;   ///< a setting of the handbook, or the next below
  bool slip = false;       ///< where the handbook has it at that flap
  bool go_around = false;  ///< once said it stays so
};

/// Held for so many of the pilot's ticks (engine/technique/clock.hpp).
struct DeskHold {
  int ticks = 1;
  DeskHands hands;
};

enum class DeskPhase { downwind, slowing, gliding, flaring, going_around, down };
/// `under_way`: the hands did not last to the end.
enum class DeskEnd { under_way, landed, off_the_runway, went_around, out_of_time };

/// Between which airspeeds it can be flown with the flaps that are out.
struct DeskLimits {
  double slowest_kcas = 0.0;  ///< a tenth above the stall
  double fastest_kcas = 0.0;  ///< the flap's limit, or 1.6 times the best glide
};

struct DeskFlight {
  DeskPhase phase = DeskPhase::downwind;
  DeskEnd end = DeskEnd::under_way;
  Moment now;
  DeskHands hands;  ///< as they were taken, not as they asked
  DeskLimits limits;
  bool slip_forbidden = false;  ///< by the handbook, with the flaps that are out
  std::optional<Moment> touchdown;
  /// Every tick, then the roll to a walk, or the climb away: what a receiver would have written.
  std::vector<Moment> track;
};

/// Flown by the reference integrator in smooth air. `runway_half_width_ft` and the ends, along, say what is
/// beside it.
struct DeskRunway {
  double from_ft = -1000.0;
  double to_ft = 4000.0;
  double half_width_ft = 37.5;
};
DeskFlight fly_at_desk(const Airplane& airplane, const Conditions& conditions, const Technique& technique,
                       const DeskRunway& runway, const std::vector<DeskHold>& holds);

}  // namespace glidewright

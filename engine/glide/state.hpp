#pragma once
// What the integrator carries and what it is told, for any lane type.

#include <cmath>

#include "engine/lanes/scalar.hpp"

namespace glidewright {

/// What the integrator carries.
template <class L>
struct FlightStateOf {
  L along_ft = 0.0;
  L cross_ft = 0.0;
  L height_ft = 0.0;
  L speed_fps = 0.0;    ///< through the air
  L path_rad = 0.0;     ///< of the air path
  L heading_rad = 0.0;  ///< of the air path (no sideslip; a slip is drag)
  L bank_rad = 0.0;
  L flap_deg = 0.0;
  L slip = 0.0;
  L thrust_over_weight = 0.0;  ///< fades after the lever is closed; the idling propeller is in the polar
};

/// What the pilot wants, fixed between two decisions.
template <class L>
struct CommandsOf {
  /// Numbers and not an enum, so that lanes can hold them.
  struct Vertical {
    static constexpr double hold_height = 0.0, hold_speed = 1.0, flare = 2.0;
  };
  L vertical = Vertical::hold_height;
  L height_ft = 1000.0;
  L speed_fps = 118.0;
  L flare_height_ft = 30.0;  ///< where the flare began
  L flare_sink_fps = 15.0;   ///< sink there
  L touchdown_speed_fps = 88.0;

  struct Lateral {
    static constexpr double hold_course = 0.0, capture_centreline = 1.0;
  };
  L lateral = Lateral::hold_course;
  L sin_course = 0.0;  ///< of the course over the ground that is held
  L cos_course = -1.0;
  L bank_limit_rad = 0.5;

  L flap_deg = 0.0;
  L slip = 0.0;
  Mask<L> idle = false;
};

/// How fast airplane and hands answer: common practice, no source.
struct Handling {
  double roll_lag_s = 0.5;
  double roll_rate_limit_rad_s = 0.1745;  ///< 10 degrees a second, with about half aileron
  double pitch_lag_s = 1.0;
  double flare_pitch_lag_s = 0.5;
  double speed_lag_s = 4.0;
  double power_fade_s = 1.3;  ///< gone after about three of these
  double flap_rate_deg_s = 6.0;
  double slip_rate_per_s = 0.6;
  double pull_limit_g = 0.35;  ///< most that load factor is changed by pitch
};

/// From the command to roll into a turn until bank begins to grow at its rate: 10 degrees are there a second
/// later. Turns in a log are read with the same (engine/track/pattern_turns.cpp). Common practice, no source.
inline constexpr double k_roll_in_begins_s = 0.65;

/// Wind in the pattern frame and its change with height.
template <class L>
struct LocalWindOf {
  L along_fps = 0.0;  ///< the air moves this way
  L cross_fps = 0.0;
  L along_per_s = 0.0;  ///< gradient, (ft/s)/ft
  L cross_per_s = 0.0;
};

/// What the air does beyond the mean wind, pattern frame.
template <class L>
struct GustOf {
  L along_fps = 0.0;
  L cross_fps = 0.0;
  L up_fps = 0.0;
};

/// Forces at one moment, for the record.
template <class L>
struct ForcesOf {
  L drag_over_weight = 0.0;
  L load_factor = 1.0;
};

template <class L>
struct GroundVelocityOf {
  L along_fps = 0.0;
  L cross_fps = 0.0;
  L speed_fps = 0.0;

  L course_rad() const { return std::atan2(cross_fps, along_fps); }
};

/// What both the pilot and the equations need of a state: reckoned once for both.
template <class L>
struct OverGroundOf {
  LocalWindOf<L> wind;
  SineCosine<L> heading;
  SineCosine<L> path;
  GroundVelocityOf<L> ground;
};

}  // namespace glidewright

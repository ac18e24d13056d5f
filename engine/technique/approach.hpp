#pragma once
// One approach from abeam to the wheels, flown by the reference integrator: fourth order, 0.02 s, double.

#include <optional>
#include <vector>

#include "engine/air/wind.hpp"
#include "engine/airplane/airplane.hpp"
#include "engine/glide/turbulence.hpp"
#include "engine/lanes/scalar.hpp"
#include "engine/technique/intent.hpp"
#include "engine/technique/technique.hpp"
#include "engine/track/runway.hpp"

namespace glidewright {

/// Where and in what air the approach is flown.
struct Conditions {
  WindProfile wind;
  double density_ratio = 1.0;
  double weight_lb = 2300.0;
  double runway_true_deg = 0.0;
  Traffic traffic = Traffic::left;
};

/// What went otherwise than the technique says, in one flight.
using Deviation = DeviationOf<double>;

enum class ApproachEnd { touchdown, go_around, ground_contact_short_of_final };

/// The state at one moment. Pattern frame mirrored back: along and cross are the runway frame's.
struct Moment {
  double time_s = 0.0;  ///< after abeam
  double along_ft = 0.0;
  double cross_ft = 0.0;
  double height_ft = 0.0;
  double true_airspeed_kt = 0.0;
  double calibrated_airspeed_kt = 0.0;
  double groundspeed_kt = 0.0;
  double sink_fpm = 0.0;
  double bank_deg = 0.0;  ///< right positive
  double heading_true_deg = 0.0;
  double flap_deg = 0.0;
  double slip = 0.0;
  double load_factor = 1.0;
};

/// The flap lever moved, or a slip went in or out.
struct LeverMove {
  double time_s = 0.0;
  double height_ft = 0.0;
  double flap_deg = 0.0;  ///< the new setting
};
struct SlipFlown {
  double in_height_ft = 0.0;
  double out_height_ft = 0.0;
};

/// Result of one approach.
struct Approach {
  ApproachEnd end = ApproachEnd::touchdown;
  std::optional<Moment> touchdown;  ///< interpolated in the step
  Moment abeam;
  Moment base_turn;  ///< roll-in begins
  std::optional<Moment> mid_base;
  std::optional<Moment> final_turn;       ///< roll-in begins
  std::optional<Moment> final_leg;        ///< wings level on final
  std::optional<Moment> half_mile_final;  ///< half a nautical mile before the point
  std::optional<Moment> gate;
  bool stable_at_gate = false;
  double maximum_bank_deg = 0.0;
  double least_speed_margin = 9.9;  ///< V / (Vs sqrt(n))
  double aim_point_ft = 0.0;  ///< where the straight path of the last 10 s before the flare met the ground
  std::vector<LeverMove> flap_moves;
  std::optional<SlipFlown> slip;  ///< first in to last out
  std::vector<Moment> trace;      ///< every 0.2 s when asked for
};

enum class Trace { none, every_decision };
/// Extremes (bank, speed margin, aim point) cost a fifth of the flight; who flies thousands leaves them out.
enum class Watch { extremes, touchdown_only };

struct IntegratorSettings {
  double step_s = 0.02;
  Trace trace = Trace::none;
  Watch watch = Watch::extremes;
};

/// Flies it. `technique.go_around_when_unstable` decides whether the gate ends the flight.
Approach fly(const Airplane& airplane, const Conditions& conditions, const Technique& technique,
             const Deviation& deviation = {}, const IntegratorSettings& settings = {},
             const TurbulentAir& air = {});

/// Vertical standard deviation of the turbulence that a wind makes, ft/s: a tenth of the wind at 20 ft
/// (MIL-F-8785C, 3.7.3.4), or what makes a reported gust three standard deviations of the wind at 10 m
/// (common practice, no source), whichever is more; times `factor`. Air rising by the sun's warmth is not in
/// it.
double vertical_gust_sd_fps(const WindProfile& wind, double factor);

/// The technique with flaps and slip at the heights at which they moved in `flown`, base on the course that
/// it made good there, and no rule: for flights in which one thing is to differ and nothing else is to answer
/// it.
Technique as_it_went(const Technique& technique, const Approach& flown);

}  // namespace glidewright

#pragma once
// What a profile's numbers make of an airplane, laid out to be looked at: its glide at every speed, the
// height that a mile costs by flap, speed and wind, and what a turn costs.

#include <optional>
#include <vector>

#include "engine/airplane/airplane.hpp"

namespace glidewright {

struct GlideAtSpeed {
  double calibrated_airspeed_kt = 0.0;
  SteadyGlide glide;
};

/// One flap setting, wings level, in still air.
struct FlapGlides {
  double setting_deg = 0.0;
  double stall_kcas = 0.0;               ///< at the sheet's weight
  std::optional<double> maximum_kcas;    ///< flap limit; none for the clean wing
  GlideAtSpeed flattest;                 ///< within the limit
  GlideAtSpeed flown;                    ///< at the speed at which this setting is glided
  std::optional<GlideAtSpeed> slipping;  ///< the same in a full slip; none where the handbook forbids it
  std::vector<GlideAtSpeed> curve;       ///< every whole knot from just above the stall
};

/// Feet of height that a nautical mile over the ground costs; headwind_kt negative for a tailwind. None where
/// the wind leaves less than 10 kt over the ground.
std::optional<double> lost_ft_per_nm(const SteadyGlide& glide, double headwind_kt);

/// A steady turn at idle.
struct GlidingTurn {
  double lost_ft = 0.0;
  double seconds = 0.0;
  double radius_ft = 0.0;
  double over_stall = 0.0;  ///< airspeed over the stall at that load factor
};
/// Through `turned` of heading, in still air. bank: 1 to 60 degrees.
GlidingTurn gliding_turn(const Polar& polar, Knots calibrated_airspeed, Pounds weight, Degrees flap,
                         Degrees bank, Degrees turned, double density_ratio);

struct GlideSheet {
  double weight_lb = 0.0;
  double density_ratio = 1.0;
  std::vector<FlapGlides> flaps;
};

/// Speeds of the handbook hold at maximum weight and go with the square root of weight; a setting for which
/// it names no glide speed is flown at the approach speed.
GlideSheet glide_sheet(const Airplane& airplane, Pounds weight, double density_ratio);

}  // namespace glidewright

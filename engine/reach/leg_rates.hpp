#pragma once
// Steady gliding at one heading of the pattern: how fast energy height is spent, straight and in the turn.

#include "engine/glide/motion.hpp"
#include "engine/reach/means.hpp"

namespace glidewright::reach {

/// What an edge of the band is flown with.
struct EdgeRules {
  enum class Kind { lowest, highest } kind = Kind::lowest;
  Spends spends = Spends::path;   ///< a lowest edge with `flaps` is that of who will set them as taught
  double flap_set_deg = 0.0;      ///< already out; never taken back
  double flap_limit_deg = 180.0;  ///< for a slip that the handbook forbids with more
};

/// Heights are energy heights over the final speed: h + (V^2 - V_final^2) / 2g.
struct LegRate {
  double speed_fps = 0.0;              ///< true
  double energy_above_final_ft = 0.0;  ///< (V^2 - V_final^2) / 2g
  double flap_deg = 0.0;
  double horizontal_fps = 0.0;  ///< through the air, wings level
  double sink_fps = 0.0;        ///< of energy height, wings level, no shear
  double turn_horizontal_fps = 0.0;
  double turn_sink_fps = 0.0;
  double turn_rate_rad_s = 0.0;
};

/// Flap that is out when so much heading is left to turn to the landing direction.
double flap_to_turn_deg(const BandRequest& request, const EdgeRules& rules, double to_turn_deg);

/// True speed taught there: base speed between two blends, each 20 degrees wide.
double speed_to_turn_fps(const Flight& flight, const Technique& technique, double to_turn_deg);

/// A roll to the bank of a turn is worth so long of flying straight on: its limit of rate, and the lag of the
/// hands behind it.
double roll_delay_s(const Handling& handling, double bank_rad);

LegRate leg_rate(const Flight& flight, const BandRequest& request, const EdgeRules& rules,
                 double to_turn_deg);

}  // namespace glidewright::reach

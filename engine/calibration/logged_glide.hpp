#pragma once
// A steady glide as it was logged, and what a polar makes of it.

#include <cstddef>
#include <string>
#include <vector>

#include "engine/airplane/airplane.hpp"

namespace glidewright {

/// How the descent was measured: by a rate, which then also holds air that rises or sinks and an airspeed
/// that reads wrong, or as an angle or ratio through the air.
enum class GlideMeasure { sink_rate, path_angle };

/// One steady glide, powerplant idling. Bank is that of a coordinated turn; 0 in a slip.
struct LoggedGlide {
  double calibrated_airspeed_kt = 0.0;
  double weight_lb = 0.0;
  double flap_deg = 0.0;
  double slip = 0.0;  ///< 0 none, 1 full
  double bank_deg = 0.0;
  double density_ratio = 1.0;
  GlideMeasure measure = GlideMeasure::sink_rate;
  double sink_fpm = 0.0;        ///< through the air, energy-corrected; for sink_rate
  double angle_deg = 0.0;       ///< downward positive; for path_angle
  double airspeed_sd_kt = 0.5;  ///< of this glide, not what all glides of the log share
  double weight_sd_relative = 0.01;
  double descent_sd_relative = 0.02;  ///< of the rate or the sine of the angle
  std::size_t line = 0;               ///< in its file; 0 for a stretch cut from a log
  double begin_unix_s = 0.0;          ///< of a stretch cut from a log
  double duration_s = 0.0;
};

/// The glides of one file, and how far all of them may be off together (one standard deviation).
struct GlideLog {
  std::string file;
  std::string sha256;
  std::vector<LoggedGlide> glides;
  double airspeed_offset_sd_kt = 1.0;  ///< position and instrument error
  double vertical_air_sd_fpm = 2.0;    ///< moving air; next to none for a table of several days
};

/// Sine of the glide's angle that the polar gives at this airspeed, in a steady turn at its bank.
/// Lift balances the weight's part across the path in the banked plane: n = cos(angle) / cos(bank).
double modelled_drag_over_weight(const Polar& polar, const LoggedGlide& glide, double calibrated_airspeed_kt);

/// The same as logged: sink over true airspeed, or the sine of the angle.
double logged_drag_over_weight(const LoggedGlide& glide, double calibrated_airspeed_kt,
                               double vertical_air_fpm);

/// Speed over the stall at the glide's weight, flap and load.
double stall_margin(const Polar& polar, const LoggedGlide& glide);

}  // namespace glidewright

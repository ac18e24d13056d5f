#pragma once
// From logged glides to a better belief.
//
// Gauss-Newton on the handbook's numbers and, for each log, an airspeed error and moving air that all its
// glides share; residuals are relative, of drag over weight. What a wrong airspeed or weight does to one
// glide inflates its noise (errors in variables). How much the glides scatter beyond that is learned from
// them. One glide in twenty may be wrong six times as far as the others (a slip nobody wrote down, a
// thermal): each glide's weight is the probability that it is not one of those.

#include "engine/calibration/glide_belief.hpp"
#include "engine/calibration/logged_glide.hpp"

namespace glidewright {

/// What one glide says against the fitted airplane.
struct GlideResidual {
  std::size_t log = 0;
  std::size_t glide = 0;
  double drag_relative = 0.0;  ///< logged over modelled, less 1; positive: steeper than the model
  double trust = 1.0;          ///< probability that nothing was wrong with it
};

/// What all glides of one log share.
struct LogOffset {
  double airspeed_kt = 0.0;  ///< true calibrated less logged
  double airspeed_sd_kt = 0.0;
  double vertical_air_fpm = 0.0;  ///< sinking air positive
  double vertical_air_sd_fpm = 0.0;
};

struct GlideFit {
  GlideBelief before;        ///< the handbook alone
  GlideBelief after;         ///< the same numbers
  double noise_scale = 1.0;  ///< scatter of the glides over what their readings' errors explain
  std::vector<GlideResidual> residuals;
  std::vector<LogOffset> offsets;
  Eigen::MatrixXd joint_covariance;  ///< the numbers, then airspeed and air of each log
};

/// Why a glide cannot be used, in plain words: too near the stall, beyond the flap's limit, banked too
/// steeply. Empty where it can.
std::string why_not_used(const Airplane& airplane, const LoggedGlide& glide);

/// Every glide given is used. Without glides the belief stays what it was.
GlideFit fit_glides(const GlideBelief& before, const std::vector<GlideLog>& logs);

}  // namespace glidewright

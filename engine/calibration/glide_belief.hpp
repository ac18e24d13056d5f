#pragma once
// What is believed of an airplane's glide, and how sure: the numbers of its handbook with a covariance.
//
// The belief is held in the handbook's own numbers (best-glide speed and ratio, each flap's glide ratio and
// so on), not in drag coefficients: there the sources give their spread, there a normal distribution of a few
// percent is a fair description, and what comes out of a fit can stand in a profile as it is.

#include <Eigen/Core>
#include <string>
#include <vector>

#include "engine/airplane/airplane.hpp"

namespace glidewright {

/// One number of the belief.
struct GlideNumber {
  std::string field;  ///< as in the profile file: "flaps[2].glide_ratio", or "idle_propeller"
  double value = 0.0;
  double sd = 0.0;
  std::string source;
};

struct GlideBelief {
  Handbook handbook;  ///< where silent, filled with class defaults
  std::vector<GlideNumber> numbers;
  Eigen::MatrixXd covariance;  ///< numbers x numbers, in their units squared
  /// Relative, of drag: what no polar of this shape follows, such as the kink that an idling propeller makes.
  double polar_misfit = 0.02;
  double degrees_of_freedom = 1e3;  ///< behind the spread, for Student's factor in the intervals

  Eigen::VectorXd mean() const;
};

/// The number of a field in a handbook that has them all, such as a belief's; null where the handbook has no
/// such number, as for the propeller.
SourcedNumber* glide_number(Handbook& book, const std::string& field);

/// What the handbook alone says, class defaults where it is silent. A number without a spread of its own gets
/// the class's. The idling propeller is a number of its own, relative to the drag at best glide: the handbook
/// glides with a stopped or windmilling one. A profile that was fitted before gives what that fit left, with
/// the correlations.
/// The handbook must have passed `check`.
GlideBelief belief_from_handbook(const Handbook& handbook);

/// The airplane with these numbers, idling: the handbook's polar with each number moved.
Airplane airplane_with(const GlideBelief& belief, const Eigen::VectorXd& numbers);

/// The same belief in the numbers of the idling airplane: the propeller is spread over the glide ratios and
/// is no number any more.
GlideBelief with_propeller_idling(const GlideBelief& belief);

}  // namespace glidewright

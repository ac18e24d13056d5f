#pragma once
// The flights behind the causes.

#include <string>
#include <vector>

#include "engine/debrief/causes.hpp"
#include "engine/debrief/shapley.hpp"

namespace glidewright {

enum class CauseKind { pattern, idle, base_turn, path, flaps, slip, wind_and_airplane, speed, flare };

/// The game of one attempt: which causes there are, and the model's touchdown for every coalition of them.
class CounterfactualFlights {
 public:
  /// Brings the model to the flown place on final by its drag (and its final turn to the flown one).
  explicit CounterfactualFlights(const CausesRequest& request);
  /// The same attempt with readings a little different: one step from where `near` was brought to.
  CounterfactualFlights(const CausesRequest& request, const CounterfactualFlights& near);

  const std::vector<CauseKind>& kinds() const { return kinds_; }
  /// Touchdowns, ft along, each with its set as flown and the rest as planned: an endless level plane, gate
  /// and go-around off, the centreline always captured. Flown by the batch, in whose error they agree with
  /// the reference (engine/batch/batch.hpp).
  std::vector<double> touchdowns_ft(const std::vector<Coalition>& sets) const;
  /// With everything as flown.
  Coalition all() const { return (Coalition{1} << kinds_.size()) - 1; }
  /// Drag of the flight over the profile's, less 1; wind off, flap or slip that nobody recorded are in it
  /// too.
  double drag_relative() const { return drag_relative_; }
  /// How much nearer to the centreline the final turn was begun than planned; negative: sooner.
  double final_turn_shift_ft() const { return final_turn_shift_ft_; }
  /// At which the planned approach touches; a technique names the speed at which it is let settle.
  double planned_touchdown_speed_kt() const { return planned_.touchdown_speed_kt - slower_at_the_wheels_kt_; }

 private:
  // One coalition as the integrators take it.
  Technique technique_of(Coalition as_flown) const;
  Conditions conditions_of(Coalition as_flown) const;
  Deviation deviation_of(Coalition as_flown) const;
  bool has(Coalition set, CauseKind kind) const;
  Approach fly_set(Coalition as_flown) const;
  Coalition told_by_deviations() const;
  void choose_kinds();
  void bring_to_flown_place();
  void follow_final_turn(const Approach& all_as_flown);

  CausesRequest request_;
  std::vector<CauseKind> kinds_;
  Technique planned_;
  double drag_relative_ = 0.0;
  double along_per_drag_ft_ = 0.0;        ///< how drag moves the place on final
  double slower_at_the_wheels_kt_ = 0.0;  ///< than the speed at which the model's pilot lets it settle
  double final_turn_shift_ft_ = 0.0;
};

/// The same attempt with every uncertain reading drawn anew: one member of the posterior.
CausesRequest drawn(const CausesRequest& request, std::uint64_t seed, std::uint64_t member);

}  // namespace glidewright

#pragma once
// Drag over weight at one speed as a function of load factor: the form of the polar that an integrator asks
// for, several load factors at one speed. One source for the reference and the batch.

#include "engine/lanes/scalar.hpp"

namespace glidewright {

/// One flap setting of the polar. Between settings everything is linear in the flap angle.
template <class L>
struct FlapPolarOf {
  L setting_deg = 0.0;
  L parasite = 0.0;    ///< drag over weight at reference speed and weight, part growing with V^2
  L induced = 0.0;     ///< the part falling with V^2
  L stall_kcas = 0.0;  ///< at reference weight
};

/// What is the same at every speed (see Polar).
template <class L>
struct PolarShape {
  L speed_squared_at_one;  ///< kt^2: where x of the polar is 1 at this weight
  L inverse_speed_squared_at_one;
  L weight_share;  ///< weight over reference weight
  L knee_gain;
  L knee_start;
  L slip_parasite;
  L turn_drag_gain;
};

template <class L>
struct DragAtSpeed {
  L parasite;  ///< terms at load factor 1
  L induced;
  L lift_share;  ///< (Vs / V)^2 at load factor 1
  L knee_gain;
  L knee_start;
  L turn_drag_gain;

  /// Drag over weight. At load factor n the wing works as one of weight n W.
  GLIDEWRIGHT_INLINE L over_weight(const L& load_factor) const {
    const L load = larger(load_factor, L(0.05));
    const L past_knee = larger(L(0.0), lift_share * load - knee_start);
    return (parasite + induced * (load * load) + knee_gain * (past_knee * past_knee) * load) *
           (1.0 + turn_drag_gain * larger(L(0.0), load_factor - 1.0));
  }
};

/// speed_squared: equivalent airspeed, kt^2. slip: 0 none to 1 full; induced_remaining: 1 out of ground
/// effect.
template <class L>
GLIDEWRIGHT_INLINE DragAtSpeed<L> drag_at_speed(const PolarShape<L>& shape, const FlapPolarOf<L>& flap,
                                                const L& speed_squared, const L& inverse_speed_squared,
                                                const L& slip, const L& induced_remaining) {
  return {(flap.parasite + slip * shape.slip_parasite) * (speed_squared * shape.inverse_speed_squared_at_one),
          flap.induced * induced_remaining * (shape.speed_squared_at_one * inverse_speed_squared),
          flap.stall_kcas * flap.stall_kcas * shape.weight_share * inverse_speed_squared,
          shape.knee_gain,
          shape.knee_start,
          shape.turn_drag_gain};
}

/// Share of induced drag that ground effect takes away: exp(-2.48 (2h/b)^0.768).
/// h wing height, b span. Within 1.2 points of the FAA PHAK ch. 5 row (h/b 1, 1/4, 1/10: 1.4, 23.5, 47.6 %).
template <class L>
GLIDEWRIGHT_INLINE L ground_effect_cut_of(const L& wing_height_over_span) {
  return exponential(-2.48 * power(2.0 * wing_height_over_span, L(0.768)));
}

}  // namespace glidewright

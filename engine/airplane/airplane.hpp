#pragma once
// The fitted airplane: drag over weight as a function of speed, weight, flap, slip and load factor.

#include <array>
#include <string>
#include <vector>

#include "engine/airplane/drag.hpp"
#include "engine/airplane/handbook.hpp"
#include "engine/lanes/scalar.hpp"
#include "engine/units/units.hpp"

namespace glidewright {

using FlapPolar = FlapPolarOf<double>;

/// Drag over weight with the powerplant idling (its drag or thrust is inside the handbook's glide):
///   D/W = parasite x + induced / x + knee_gain max(0, r - knee_start)^2 + slip_parasite x
/// x = (V / reference_speed)^2 (reference_weight / W) with V equivalent airspeed, r = CL / CLmax = (Vs /
/// V)^2. At load factor n the wing works as at V / sqrt(n): D/W(V, n) = n D/W(V / sqrt(n)) (1 +
/// turn_drag_gain (n - 1)). The knee is there because a parabola is 10-20 % too good below best glide, where
/// the float is.
struct Polar {
  double reference_speed_kcas = 70.0;
  double reference_weight_lb = 2300.0;
  std::vector<FlapPolar> flaps;  ///< rising, first clean
  double knee_gain = 0.0;
  double knee_start = 0.45;
  double slip_parasite = 0.0;  ///< full slip
  double turn_drag_gain = 0.0;

  /// n: load factor; slip: 0 none to 1 full; induced_remaining: 1 out of ground effect.
  double drag_over_weight(double equivalent_airspeed_kt, double weight_lb, double flap_deg, double slip,
                          double load_factor, double induced_remaining) const;
  /// The polar at one flap angle, for loops that ask for drag many times at the same flap.
  FlapPolar at_flap(double flap_deg) const;
  /// Its numbers at one weight, in the form in which drag is reckoned.
  PolarShape<double> shape(double weight_lb) const;
  /// Stall speed, calibrated, at weight and flap, load factor 1.
  double stall_kcas(double weight_lb, double flap_deg) const;
};

/// The airplane as the engine flies it, with the spread the plan is made over.
struct Airplane {
  std::string id;
  std::string name;
  Handbook handbook;
  Polar polar;
  double wing_span_ft = 36.0;
  double wing_height_ft = 7.0;           ///< of the wing above the ground with the wheels on it
  double glide_sd = 0.05;                ///< relative, of all drag together
  double slip_sd = 0.25;                 ///< relative, of slip drag
  std::vector<std::string> assumptions;  ///< every class default that was used, in plain words
};

/// Polar through the handbook's numbers; class defaults with wide spread where it is silent.
Airplane fit_airplane(const Handbook& handbook);

/// Steady wings-level glide at a speed.
struct SteadyGlide {
  double glide_ratio = 0.0;  ///< through the air
  double angle_deg = 0.0;    ///< downward positive
  double true_airspeed_kt = 0.0;
  double sink_fpm = 0.0;
};
SteadyGlide steady_glide(const Polar& polar, Knots calibrated_airspeed, Pounds weight, Degrees flap,
                         double slip, double density_ratio);

/// Calibrated speed of the flattest still-air glide at a weight.
Knots best_glide_speed(const Polar& polar, Pounds weight, Degrees flap);

/// Share of induced drag that ground effect takes away: exp(-2.48 (2h/b)^0.768).
/// h wing height, b span. Within 1.2 points of the FAA PHAK ch. 5 row (h/b 1, 1/4, 1/10: 1.4, 23.5, 47.6 %).
double ground_effect_cut(double wing_height_over_span);

}  // namespace glidewright

#pragma once

#include <cmath>
#include <numbers>

#include "engine/airplane/airplane.hpp"

namespace glidewright {

/// An airplane as textbooks give it: CD = CD0 + CL^2 / (pi e AR).
struct DragCoefficients {
  double weight_lb = 0.0;
  double wing_area_ft2 = 0.0;
  double aspect_ratio = 0.0;
  double parasite = 0.0;    ///< CD0
  double efficiency = 0.0;  ///< e
  double maximum_lift = 1.5;
};

/// Sea-level density of the standard atmosphere, slug/ft3, as the source of the example below rounds it.
inline constexpr double k_sea_level_density_slug_ft3 = 0.0023769;

inline double induced_factor(const DragCoefficients& airplane) {
  return 1.0 / (std::numbers::pi * airplane.efficiency * airplane.aspect_ratio);
}

/// The engine's polar with the same drag: reference speed where parasite and induced drag are equal, no knee.
inline Polar parabolic_polar(const DragCoefficients& airplane) {
  const double k = induced_factor(airplane);
  const double best_lift = std::sqrt(airplane.parasite / k);
  const auto speed_kt = [&](double lift) {
    const double load = airplane.weight_lb / airplane.wing_area_ft2;
    return std::sqrt(2.0 * load / (k_sea_level_density_slug_ft3 * lift)) / k_fps_per_knot;
  };
  Polar polar;
  polar.reference_speed_kcas = speed_kt(best_lift);
  polar.reference_weight_lb = airplane.weight_lb;
  const double half_of_least_drag = std::sqrt(airplane.parasite * k);
  polar.flaps = {{0.0, half_of_least_drag, half_of_least_drag, speed_kt(airplane.maximum_lift)}};
  return polar;
}

/// Lowry, Performance of Light Aircraft, example 9.1 (book not opened; its printed results all reproduce).
/// Maximum lift is inferred from the turn heights it prints.
inline constexpr DragCoefficients k_textbook_airplane{2400.0, 174.0, 7.38, 0.037, 0.72, 1.534};

/// A polar with this best glide and nothing else.
inline Polar polar_of(double best_speed_kt, double best_ratio) {
  Polar polar;
  polar.reference_speed_kcas = best_speed_kt;
  const double half = 0.5 / best_ratio;
  polar.flaps = {{0.0, half, half, 0.6 * best_speed_kt}};
  return polar;
}

}  // namespace glidewright

#pragma once
// The Earth's magnetic field by the World Magnetic Model, which is good for five years from its epoch.

#include <array>
#include <optional>

#include "engine/track/runway.hpp"

namespace glidewright {

struct MagneticModel {
  static constexpr int k_degree = 12;
  static constexpr double k_good_for_years = 5.0;
  /// Schmidt semi-normalised, nT, and what they change by in a year.
  struct Coefficients {
    double g = 0.0, h = 0.0, g_a_year = 0.0, h_a_year = 0.0;
  };
  double epoch_year = 0.0;
  std::array<Coefficients, k_degree*(k_degree + 3) / 2>
      of;  ///< degree 1 orders 0 and 1, degree 2 orders 0 to 2, ...
};

extern const MagneticModel k_wmm_2020, k_wmm_2025;

/// nT, in the directions of the ellipsoid: north, east and down.
struct MagneticField {
  double north_nt = 0.0;
  double east_nt = 0.0;
  double down_nt = 0.0;

  /// From true to magnetic north, degrees, east positive: magnetic = true - this.
  double declination_deg() const;
  double inclination_deg() const;  ///< down positive
};

/// At a height above the WGS 84 ellipsoid; the height hardly matters (0.001 degrees for 1,000 ft). As
/// published to half a unit of the printed digit. `year` with its part: 2026.9.
MagneticField magnetic_field(const MagneticModel& model, const Geodetic& place, double height_m, double year);

/// The model that holds then; none before 2020 and from 2030 on.
const MagneticModel* magnetic_model_of(double year);

/// From true to magnetic north at a place on the ground; none where no model holds, and within 2,000 km of a
/// magnetic pole, where the horizontal field is below 6,000 nT and a compass is not to be trusted (WMM2025
/// report, caution zone).
std::optional<double> magnetic_variation_deg(const Geodetic& place, double year);

}  // namespace glidewright

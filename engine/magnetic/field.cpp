#include "engine/magnetic/field.hpp"

#include <cmath>

#include "engine/track/geodesy.hpp"
#include "engine/units/units.hpp"

namespace glidewright {
namespace {

constexpr int k_degree = MagneticModel::k_degree;
constexpr double k_reference_radius_m = 6371200.0;  // of the model

/// What an order n, m is found by in a triangle without its tip.
constexpr std::size_t at(int n, int m) {
  return static_cast<std::size_t>(n * (n + 1) / 2 + m - 1);
}

/// The same place in spherical coordinates.
struct Spherical {
  double radius_m;
  double latitude_rad;
};

Spherical spherical(const Geodetic& place, double height_m) {
  const auto [x, y, z] = earth_fixed(place, height_m);
  const double from_axis_m = std::hypot(x, y);
  return {std::hypot(from_axis_m, z), std::atan2(z, from_axis_m)};
}

/// Schmidt semi-normalised Legendre functions of the sine of the latitude, and what they change by with the
/// latitude.
struct Legendre {
  double value[k_degree + 1][k_degree + 1] = {};
  double slope[k_degree + 1][k_degree + 1] = {};

  Legendre(double sine, double cosine) {
    value[0][0] = 1.0;
    for (int n = 1; n <= k_degree; ++n) {
      for (int m = 0; m <= n; ++m) {
        if (m == n) {
          const double scale = n == 1 ? 1.0 : std::sqrt((2.0 * n - 1.0) / (2.0 * n));
          value[n][n] = scale * cosine * value[n - 1][n - 1];
          slope[n][n] = scale * (cosine * slope[n - 1][n - 1] - sine * value[n - 1][n - 1]);
          continue;
        }
        const double across = std::sqrt(static_cast<double>(n * n - m * m));
        const double before = m < n - 1 ? std::sqrt((n - 1.0) * (n - 1.0) - m * m) : 0.0;
        const double older = n >= 2 ? value[n - 2][m] : 0.0, older_slope = n >= 2 ? slope[n - 2][m] : 0.0;
        value[n][m] = ((2.0 * n - 1.0) * sine * value[n - 1][m] - before * older) / across;
        slope[n][m] =
            ((2.0 * n - 1.0) * (sine * slope[n - 1][m] + cosine * value[n - 1][m]) - before * older_slope) /
            across;
      }
    }
  }
};

}  // namespace

double MagneticField::declination_deg() const {
  return std::atan2(east_nt, north_nt) / k_radians_per_degree;
}

double MagneticField::inclination_deg() const {
  return std::atan2(down_nt, std::hypot(north_nt, east_nt)) / k_radians_per_degree;
}

MagneticField magnetic_field(const MagneticModel& model, const Geodetic& place, double height_m,
                             double year) {
  const double latitude_rad = place.latitude_deg * k_radians_per_degree;
  const double longitude_rad = place.longitude_deg * k_radians_per_degree;
  const Spherical here = spherical(place, height_m);
  const double sine = std::sin(here.latitude_rad), cosine = std::cos(here.latitude_rad);
  const Legendre legendre(sine, cosine);
  const double years = year - model.epoch_year;
  double north = 0.0, east = 0.0, down = 0.0;  // of the sphere
  for (int n = 1; n <= k_degree; ++n) {
    const double fades = std::pow(k_reference_radius_m / here.radius_m, n + 2);
    for (int m = 0; m <= n; ++m) {
      const auto& c = model.of[at(n, m)];
      const double g = c.g + years * c.g_a_year, h = c.h + years * c.h_a_year;
      const double round = std::cos(m * longitude_rad), ahead = std::sin(m * longitude_rad);
      const double in_phase = g * round + h * ahead;
      north -= fades * in_phase * legendre.slope[n][m];
      down -= fades * (n + 1) * in_phase * legendre.value[n][m];
      // At a pole the function of order 1 goes to zero as the cosine does; a metre from it nobody flies.
      east += fades * m * (g * ahead - h * round) * legendre.value[n][m] / std::fmax(cosine, 1e-10);
    }
  }
  const double tilt_rad = here.latitude_rad - latitude_rad;
  return {north * std::cos(tilt_rad) - down * std::sin(tilt_rad), east,
          north * std::sin(tilt_rad) + down * std::cos(tilt_rad)};
}

const MagneticModel* magnetic_model_of(double year) {
  for (const MagneticModel* model : {&k_wmm_2020, &k_wmm_2025})
    if (year >= model->epoch_year && year < model->epoch_year + MagneticModel::k_good_for_years) return model;
  return nullptr;
}

std::optional<double> magnetic_variation_deg(const Geodetic& place, double year) {
  constexpr double k_weakest_horizontal_nt = 6000.0;
  const MagneticModel* model = magnetic_model_of(year);
  if (model == nullptr) return std::nullopt;
  const MagneticField field = magnetic_field(*model, place, 0.0, year);
  if (std::hypot(field.north_nt, field.east_nt) < k_weakest_horizontal_nt) return std::nullopt;
  return field.declination_deg();
}

}  // namespace glidewright

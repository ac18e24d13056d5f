#include "engine/track/geodesy.hpp"

#include <cassert>
#include <cmath>
#include <numbers>

namespace glidewright {
namespace {

constexpr double k_eccentricity_squared = k_wgs84_flattening * (2.0 - k_wgs84_flattening);

}  // namespace

EarthFixed earth_fixed(Geodetic place, double ellipsoid_height_m) {
  const double phi = place.latitude_deg * k_radians_per_degree;
  const double lambda = place.longitude_deg * k_radians_per_degree;
  const double sine = std::sin(phi);
  const double prime_vertical_m =
      k_wgs84_semi_major_m / std::sqrt(1.0 - k_eccentricity_squared * sine * sine);
  const double from_axis_m = (prime_vertical_m + ellipsoid_height_m) * std::cos(phi);
  return {from_axis_m * std::cos(lambda), from_axis_m * std::sin(lambda),
          (prime_vertical_m * (1.0 - k_eccentricity_squared) + ellipsoid_height_m) * sine};
}

Geodetic geodetic(EarthFixed point) {
  const auto [x, y, z] = point;
  const double from_axis_m = std::hypot(x, y);
  // Near the ellipsoid this fixed point contracts by e^2 times height over radius: four rounds are plenty.
  double phi = std::atan2(z, from_axis_m * (1.0 - k_eccentricity_squared));
  for (int round = 0; round < 4; ++round) {
    const double sine = std::sin(phi);
    const double prime_vertical_m =
        k_wgs84_semi_major_m / std::sqrt(1.0 - k_eccentricity_squared * sine * sine);
    phi = std::atan2(z + k_eccentricity_squared * prime_vertical_m * sine, from_axis_m);
  }
  return {phi / k_radians_per_degree, std::atan2(y, x) / k_radians_per_degree};
}

Geodesic geodesic_between(Geodetic from, Geodetic to) {
  if (from.latitude_deg == to.latitude_deg && from.longitude_deg == to.longitude_deg) {
    return {{0.0}, {0.0}, {0.0}};
  }
  constexpr double f = k_wgs84_flattening;
  constexpr double a = k_wgs84_semi_major_m;
  constexpr double b = a * (1.0 - f);
  const double u1 = std::atan((1.0 - f) * std::tan(from.latitude_deg * k_radians_per_degree));
  const double u2 = std::atan((1.0 - f) * std::tan(to.latitude_deg * k_radians_per_degree));
  const double longitude = wrap_180_deg(to.longitude_deg - from.longitude_deg) * k_radians_per_degree;
  const double sin_u1 = std::sin(u1), cos_u1 = std::cos(u1);
  const double sin_u2 = std::sin(u2), cos_u2 = std::cos(u2);

  // Vincenty's symbols: lambda, sigma, alpha, sigma_m.
  double lambda = longitude;
  double sin_sigma = 0.0, cos_sigma = 1.0, sigma = 0.0, cos2_alpha = 1.0, cos_2sigma_m = 0.0;
  double sin_lambda = 0.0, cos_lambda = 1.0;
  [[maybe_unused]] bool converged = false;
  for (int round = 0; round < 200; ++round) {
    sin_lambda = std::sin(lambda);
    cos_lambda = std::cos(lambda);
    sin_sigma = std::hypot(cos_u2 * sin_lambda, cos_u1 * sin_u2 - sin_u1 * cos_u2 * cos_lambda);
    cos_sigma = sin_u1 * sin_u2 + cos_u1 * cos_u2 * cos_lambda;
    sigma = std::atan2(sin_sigma, cos_sigma);
    const double sin_alpha = sin_sigma == 0.0 ? 0.0 : cos_u1 * cos_u2 * sin_lambda / sin_sigma;
    cos2_alpha = 1.0 - sin_alpha * sin_alpha;
    cos_2sigma_m = cos2_alpha == 0.0 ? 0.0 : cos_sigma - 2.0 * sin_u1 * sin_u2 / cos2_alpha;
    const double c = f / 16.0 * cos2_alpha * (4.0 + f * (4.0 - 3.0 * cos2_alpha));
    const double before = lambda;
    lambda = longitude +
             (1.0 - c) * f * sin_alpha *
                 (sigma +
                  c * sin_sigma * (cos_2sigma_m + c * cos_sigma * (2.0 * cos_2sigma_m * cos_2sigma_m - 1.0)));
    if (std::abs(lambda - before) < 1e-13) {
      converged = true;
      break;
    }
  }
  assert(converged);

  const double u_squared = cos2_alpha * (a * a - b * b) / (b * b);
  const double big_a =
      1.0 + u_squared / 16384.0 * (4096.0 + u_squared * (-768.0 + u_squared * (320.0 - 175.0 * u_squared)));
  const double big_b =
      u_squared / 1024.0 * (256.0 + u_squared * (-128.0 + u_squared * (74.0 - 47.0 * u_squared)));
  const double delta_sigma =
      big_b * sin_sigma *
      (cos_2sigma_m + big_b / 4.0 *
                          (cos_sigma * (2.0 * cos_2sigma_m * cos_2sigma_m - 1.0) -
                           big_b / 6.0 * cos_2sigma_m * (4.0 * sin_sigma * sin_sigma - 3.0) *
                               (4.0 * cos_2sigma_m * cos_2sigma_m - 3.0)));
  const double forward = std::atan2(cos_u2 * sin_lambda, cos_u1 * sin_u2 - sin_u1 * cos_u2 * cos_lambda);
  const double onward = std::atan2(cos_u1 * sin_lambda, -sin_u1 * cos_u2 + cos_u1 * sin_u2 * cos_lambda);
  return {{b * big_a * (sigma - delta_sigma)},
          {wrap_360_deg(forward / k_radians_per_degree)},
          {wrap_360_deg(onward / k_radians_per_degree + 180.0)}};
}

}  // namespace glidewright

#include "engine/glide/wind_field.hpp"

#include <algorithm>
#include <utility>

namespace glidewright {
namespace {

constexpr int k_fine_levels = 64;
constexpr double k_coarse_step_ft = 8.0;
constexpr int k_levels = k_fine_levels + 157;  // up to 1,312 ft, above the profile's cap

double level_height_ft(int level) {
  return level <= k_fine_levels ? level : k_fine_levels + k_coarse_step_ft * (level - k_fine_levels);
}

}  // namespace

WindField::WindField(const WindProfile& profile, Degrees runway_true, Mirrored mirrored, Knots extra_headwind,
                     Knots extra_crosswind_from_right) {
  const double mirror = mirrored == Mirrored::yes ? -1.0 : 1.0;
  WindProfile unit;
  unit.at_10m = {Degrees{0.0}, Knots{1.0}};
  unit.power_law_exponent = profile.power_law_exponent;
  const auto wind_at = [&](double height_ft) {
    const auto [headwind, from_right] = components(profile.at(Feet{height_ft}), runway_true);
    const double extra = unit.at(Feet{height_ft}).speed.value;
    return std::pair{-to_feet_per_second(headwind + extra * extra_headwind).value,
                     -mirror * to_feet_per_second(from_right + extra * extra_crosswind_from_right).value};
  };
  levels_.reserve(k_levels);
  for (int level = 0; level < k_levels; ++level) {
    constexpr double half_ft = 0.05;
    const double height_ft = level_height_ft(level);
    const auto [along, cross] = wind_at(height_ft);
    const auto [along_up, cross_up] = wind_at(height_ft + half_ft);
    const auto [along_down, cross_down] = wind_at(height_ft - half_ft);
    levels_.push_back(
        {along, cross, (along_up - along_down) / (2.0 * half_ft), (cross_up - cross_down) / (2.0 * half_ft)});
  }
}

LocalWind WindField::at(double height_ft) const {
  const double top = level_height_ft(k_levels - 1);
  const double height = std::clamp(height_ft, 0.0, top - 1e-9);
  const bool fine = height < k_fine_levels;
  const double step = fine ? 1.0 : k_coarse_step_ft;
  const double position = fine ? height : k_fine_levels + (height - k_fine_levels) / k_coarse_step_ft;
  const auto level = static_cast<std::size_t>(position);
  const double u = position - static_cast<double>(level);
  const LocalWind& low = levels_[level];
  const LocalWind& high = levels_[level + 1];
  // Cubic Hermite between the levels, and its derivative.
  const double a = u * u * (3.0 - 2.0 * u), b = u * (1.0 - u) * (1.0 - u) * step,
               c = u * u * (u - 1.0) * step;
  const double da = 6.0 * u * (1.0 - u) / step, db = (1.0 - u) * (1.0 - 3.0 * u), dc = u * (3.0 * u - 2.0);
  return {low.along_fps + a * (high.along_fps - low.along_fps) + b * low.along_per_s + c * high.along_per_s,
          low.cross_fps + a * (high.cross_fps - low.cross_fps) + b * low.cross_per_s + c * high.cross_per_s,
          da * (high.along_fps - low.along_fps) + db * low.along_per_s + dc * high.along_per_s,
          da * (high.cross_fps - low.cross_fps) + db * low.cross_per_s + dc * high.cross_per_s};
}

}  // namespace glidewright

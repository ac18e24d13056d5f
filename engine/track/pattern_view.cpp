#include "engine/track/pattern_view.hpp"

#include <algorithm>
#include <cmath>

namespace glidewright {
namespace {

PatternMoment moment_at(const SmoothTrack& track, double time_unix_s, double mirror, const WindVector& wind) {
  const TrackState s = track.at(time_unix_s);
  const auto [wind_along, wind_cross] = wind.at(s.height_ft);
  const double air_along = s.along_fps - wind_along;
  const double air_cross = mirror * (s.cross_fps - wind_cross);
  const double cross_fps = mirror * s.cross_fps;
  PatternMoment m;
  m.time_unix_s = time_unix_s;
  m.along_ft = s.along_ft;
  m.outside_ft = -mirror * s.cross_ft;
  m.height_ft = s.height_ft;
  m.turned_deg = wrap_360_deg(180.0 - std::atan2(cross_fps, s.along_fps) / k_radians_per_degree);
  m.airspeed_fps = std::max(std::hypot(air_along, air_cross), 1.0);
  m.groundspeed_fps = std::hypot(s.along_fps, s.cross_fps);
  m.climb_fps = s.climb_fps;
  // A coordinated turn pulls square to the air velocity: tan(bank) = sideways acceleration / g.
  const double sideways_fps2 =
      (air_cross * s.along_fps2 - air_along * mirror * s.cross_fps2) / m.airspeed_fps;
  m.bank_deg = std::atan2(sideways_fps2, k_gravity_fps2) / k_radians_per_degree;
  m.energy_height_ft = s.height_ft + m.airspeed_fps * m.airspeed_fps / (2.0 * k_gravity_fps2);
  return m;
}

}  // namespace

std::size_t PatternView::index_at(double time_unix_s) const {
  if (moments.empty()) return 0;
  const double steps = std::ceil((time_unix_s - moments.front().time_unix_s) / step_s - 1e-9);
  return static_cast<std::size_t>(std::clamp(steps, 0.0, static_cast<double>(moments.size() - 1)));
}

PatternView view_pattern(const SmoothTrack& track, double from_unix_s, double to_unix_s, Traffic traffic,
                         const WindVector& wind) {
  PatternView view;
  if (track.states.empty() || !(to_unix_s >= from_unix_s)) return view;
  const double mirror = traffic == Traffic::left ? 1.0 : -1.0;
  const auto count = static_cast<std::size_t>(std::floor((to_unix_s - from_unix_s) / view.step_s)) + 1;
  view.moments.reserve(count);
  for (std::size_t i = 0; i < count; ++i) {
    view.moments.push_back(
        moment_at(track, from_unix_s + static_cast<double>(i) * view.step_s, mirror, wind));
  }
  // Unwrapped backwards: the end of a pattern is on final, whatever orbits came before.
  for (std::size_t i = view.moments.size() - 1; i-- > 0;) {
    const double after = view.moments[i + 1].turned_deg;
    view.moments[i].turned_deg = after + wrap_180_deg(view.moments[i].turned_deg - after);
  }
  return view;
}

}  // namespace glidewright

#pragma once
// Turbulence near the ground, for any lane type: the low-altitude Dryden model.
//
// The air is drawn at the ticks of the pilot's clock and changes steadily from one to the next. What it
// gains, the airplane's velocity through it loses: airspeed, heading and path drift by that much beside the
// equations of motion, which answer from there. Each component is filtered by its length over the airspeed to
// first order (MIL-F-8785C has the lateral and vertical ones of second order: the same variance and length).

#include <cstdint>

#include "engine/glide/state.hpp"

namespace glidewright {

/// How rough the air of one flight is, and which random numbers shake it.
struct TurbulentAir {
  double vertical_sd_fps = 0.0;  ///< of the vertical component; 0: smooth
  std::uint64_t seed = 1;
  std::uint64_t flight = 0;
};

namespace turbulence {

/// Of a flight's random numbers (engine/lanes/philox.hpp) the air takes this block at the start and one more
/// at each tick; those before are the pilot's.
inline constexpr std::uint32_t k_first_block = 16;

/// Heights for which the model's lengths hold.
inline constexpr double k_lowest_ft = 10.0, k_highest_ft = 1000.0;
/// Below this the vertical component fades: air does not blow through the ground. Common practice, no source.
inline constexpr double k_fading_ft = 35.0;

/// How the components compare with the vertical one at a height, and how long they are.
/// Source: MIL-F-8785C, 3.7.3.4: sigma_w = 0.1 W20, sigma_u = sigma_w / (0.177 + 0.000823 h)^0.4,
/// L_w = h, L_u = h / (0.177 + 0.000823 h)^1.2, h in ft from 10 to 1,000.
template <class L>
struct Scales {
  L horizontal_over_vertical;
  L horizontal_length_ft;
  L vertical_length_ft;
  L vertical_share;  ///< of the vertical component that the ground leaves
};

template <class L>
GLIDEWRIGHT_INLINE Scales<L> scales_at(const L& height_ft) {
  const L height = limited(height_ft, L(k_lowest_ft), L(k_highest_ft));
  const L ratio = exponential(-0.4 * logarithm(0.177 + 0.000823 * height));
  return {ratio, height * (ratio * ratio * ratio), height,
          limited(height_ft * (1.0 / k_fading_ft), L(0.0), L(1.0))};
}

/// Two uniform numbers of 16 bits together, scaled to variance 1: a triangle. After a few ticks of the filter
/// their sum is as good as normal.
GLIDEWRIGHT_INLINE float shock_of(std::uint32_t word) {
  const auto sum = static_cast<std::int32_t>((word & 0xffffU) + (word >> 16)) - 65535;
  return static_cast<float>(sum) * (2.449489743f / 65536.0f);
}

/// Each component in units of its standard deviation.
template <class L>
struct Shaken {
  L along = 0.0;
  L cross = 0.0;
  L up = 0.0;
};

template <class L>
GLIDEWRIGHT_INLINE L filtered(const L& before, const L& shock, const L& keeps) {
  return keeps * before + square_root(larger(L(0.0), 1.0 - keeps * keeps)) * shock;
}

/// One tick on: `shocks` have mean 0 and variance 1.
template <class L>
GLIDEWRIGHT_INLINE void shake(const Shaken<L>& shocks, const L& speed_fps, const Scales<L>& scales,
                              double tick_s, Shaken<L>& air) {
  const L way_ft = -tick_s * speed_fps;
  const L keeps_horizontal = exponential(way_ft / scales.horizontal_length_ft);
  air.along = filtered(air.along, shocks.along, keeps_horizontal);
  air.cross = filtered(air.cross, shocks.cross, keeps_horizontal);
  air.up = filtered(air.up, shocks.up, exponential(way_ft / scales.vertical_length_ft));
}

template <class L>
GLIDEWRIGHT_INLINE GustOf<L> gust_of(const Shaken<L>& air, const Scales<L>& scales,
                                     const L& vertical_sd_fps) {
  const L horizontal_sd_fps = vertical_sd_fps * scales.horizontal_over_vertical;
  return {horizontal_sd_fps * air.along, horizontal_sd_fps * air.cross,
          vertical_sd_fps * scales.vertical_share * air.up};
}

/// What the change of the air does to airspeed, heading and path, beside the equations of motion.
template <class L>
struct DriftOf {
  L speed_fps2 = 0.0;
  L heading_rad_s = 0.0;
  L path_rad_s = 0.0;
};

template <class L>
GLIDEWRIGHT_INLINE DriftOf<L> drift_now(const GustOf<L>& change_per_s, const SineCosine<L>& heading,
                                        const SineCosine<L>& path, const L& speed_fps) {
  const L ahead = change_per_s.along_fps * heading.cosine + change_per_s.cross_fps * heading.sine;
  const L aside = change_per_s.cross_fps * heading.cosine - change_per_s.along_fps * heading.sine;
  const L inverse_speed = 1.0 / speed_fps;
  return {-(ahead * path.cosine + change_per_s.up_fps * path.sine), -(aside * inverse_speed / path.cosine),
          (ahead * path.sine - change_per_s.up_fps * path.cosine) * inverse_speed};
}

template <class L>
GLIDEWRIGHT_INLINE SineCosine<L> turned(const SineCosine<L>& angle, const L& by_rad) {
  return {angle.sine + by_rad * angle.cosine, angle.cosine - by_rad * angle.sine};
}

/// The drift of the next `for_s`, as it is half way through them: with the directions that it begins with it
/// would gain speed from nothing, 0.001 ft/s a tick. `change_per_s`: of the gust, ft/s each second; `rate`:
/// of the state by the equations of motion.
template <class L>
GLIDEWRIGHT_INLINE DriftOf<L> drift_through(const GustOf<L>& change_per_s, const OverGroundOf<L>& over,
                                            const FlightStateOf<L>& state, const FlightStateOf<L>& rate,
                                            const L& for_s) {
  const DriftOf<L> first = drift_now(change_per_s, over.heading, over.path, state.speed_fps);
  const L half_s = 0.5 * for_s;
  return drift_now(change_per_s, turned(over.heading, half_s * (first.heading_rad_s + rate.heading_rad)),
                   turned(over.path, half_s * (first.path_rad_s + rate.path_rad)),
                   state.speed_fps + half_s * (first.speed_fps2 + rate.speed_fps));
}

template <class L>
GLIDEWRIGHT_INLINE void drift(const DriftOf<L>& drift, const L& for_s, FlightStateOf<L>& state) {
  state.speed_fps += for_s * drift.speed_fps2;
  state.heading_rad += for_s * drift.heading_rad_s;
  state.path_rad += for_s * drift.path_rad_s;
}

/// `gust` after it has changed for a while.
template <class L>
GLIDEWRIGHT_INLINE GustOf<L> changed(const GustOf<L>& gust, const GustOf<L>& change_per_s, const L& for_s) {
  return {gust.along_fps + for_s * change_per_s.along_fps, gust.cross_fps + for_s * change_per_s.cross_fps,
          gust.up_fps + for_s * change_per_s.up_fps};
}

/// Change that leads from one gust to another.
template <class L>
GLIDEWRIGHT_INLINE GustOf<L> change_per_s(const GustOf<L>& from, const GustOf<L>& to, double in_s) {
  const double per_s = 1.0 / in_s;
  return {per_s * (to.along_fps - from.along_fps), per_s * (to.cross_fps - from.cross_fps),
          per_s * (to.up_fps - from.up_fps)};
}

}  // namespace turbulence
}  // namespace glidewright

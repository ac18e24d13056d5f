#pragma once
// Flight for lanes: wind, polar and air under the names that the equations and the pilot ask for.

#include "engine/batch/order.hpp"
#include "engine/units/units.hpp"

namespace glidewright {

/// What the wind of one flight has more than the profile, at 10 m.
template <class L>
struct ExtraWind {
  L along_fps = 0.0;
  L cross_fps = 0.0;
};

/// The wind profile reckoned anew at each height, with its exact gradient. Floor 2 m, cap 1,300 ft, as
/// WindProfile.
template <class L>
struct LaneWind {
  const WindNumbers* profile;
  ExtraWind<L> extra;

  GLIDEWRIGHT_INLINE LocalWindOf<L> at(const L& height_ft) const {
    constexpr double report_ft = 10.0 / 0.3048, floor_ft = 2.0 / 0.3048, cap_ft = 1300.0;
    const L height = limited(height_ft, L(floor_ft), L(cap_ft));
    const L per_ft = choose(height == height_ft, 1.0 / height, L(0.0));
    const WindNumbers& wind = *profile;
    const L extra_ratio = power(height * (1.0 / report_ft), L(wind.extra_exponent));
    const L extra_slope = extra_ratio * wind.extra_exponent * per_ft;
    if (wind.law == WindNumbers::Law::power) {
      const SineCosine<L> off = sine_cosine(L(wind.from_off_runway_rad));
      const L along = extra.along_fps - wind.at_10m_fps * off.cosine;
      const L cross = extra.cross_fps - wind.mirror * wind.at_10m_fps * off.sine;
      return {along * extra_ratio, cross * extra_ratio, along * extra_slope, cross * extra_slope};
    }
    const double layer_ft = wind.aloft_height_ft - report_ft;
    const L share = limited((height - report_ft) * (1.0 / layer_ft), L(0.0), L(1.0));
    const L share_slope =
        choose(height > report_ft && height < wind.aloft_height_ft, L(1.0 / layer_ft), L(0.0));
    L speed, speed_slope;
    if (wind.law == WindNumbers::Law::power_veering) {
      speed = wind.at_10m_fps * power(height * (1.0 / report_ft), L(wind.exponent));
      speed_slope = speed * wind.exponent * per_ft;
    } else {
      speed = wind.at_10m_fps + share * (wind.aloft_fps - wind.at_10m_fps);
      speed_slope = share_slope * (wind.aloft_fps - wind.at_10m_fps);
    }
    const SineCosine<L> off = sine_cosine(wind.from_off_runway_rad + share * wind.veer_rad);
    const L turning = share_slope * wind.veer_rad;
    return {extra.along_fps * extra_ratio - speed * off.cosine,
            extra.cross_fps * extra_ratio - wind.mirror * (speed * off.sine),
            extra.along_fps * extra_slope - (speed_slope * off.cosine - speed * off.sine * turning),
            extra.cross_fps * extra_slope -
                wind.mirror * (speed_slope * off.sine + speed * off.cosine * turning)};
  }
};

template <class L>
struct LaneFlight {
  const BatchOrder* order;
  LaneWind<L> wind;
  L drag_factor = 1.0;
  static constexpr double slip_factor = 1.0;
  static constexpr Handling handling{};

  GLIDEWRIGHT_INLINE L calibrated_kt(const L& speed_fps) const {
    return speed_fps * order->calibrated_kt_per_fps;
  }
  GLIDEWRIGHT_INLINE L true_fps(const L& calibrated_kt) const {
    return calibrated_kt * (1.0 / order->calibrated_kt_per_fps);
  }
  GLIDEWRIGHT_INLINE L wing_height_ft() const { return order->wing_height_ft; }
  GLIDEWRIGHT_INLINE L wing_span_ft() const { return order->wing_span_ft; }
  GLIDEWRIGHT_INLINE PolarShape<L> polar_shape() const {
    const PolarShape<double>& shape = order->shape;
    return {L(shape.reference_speed_squared), L(shape.weight_share),  L(shape.knee_gain), L(shape.knee_start),
            L(shape.slip_parasite),           L(shape.turn_drag_gain)};
  }
  GLIDEWRIGHT_INLINE FlapPolarOf<L> flap_polar(const L& flap_deg) const {
    const FlapPolarOf<double>* flaps = order->flaps;
    FlapPolarOf<L> polar{flap_deg, L(flaps[0].parasite), L(flaps[0].induced), L(flaps[0].stall_kcas)};
    for (int i = 1; i < order->flap_count; ++i) {
      const FlapPolarOf<double>&low = flaps[i - 1], &high = flaps[i];
      const L share = limited((flap_deg - low.setting_deg) * (1.0 / (high.setting_deg - low.setting_deg)),
                              L(0.0), L(1.0));
      polar.parasite += share * (high.parasite - low.parasite);
      polar.induced += share * (high.induced - low.induced);
      polar.stall_kcas += share * (high.stall_kcas - low.stall_kcas);
    }
    return polar;
  }
};

}  // namespace glidewright

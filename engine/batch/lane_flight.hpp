#pragma once
// Flight for lanes: wind, polar and air under the names that the equations and the pilot ask for. What is the
// same in every lane is spread over the lanes once, for the hot loop to read.

#include "engine/batch/order.hpp"
#include "engine/technique/intent.hpp"
#include "engine/units/units.hpp"

namespace glidewright {

/// The same number in every lane, for every value of a struct that holds nothing else.
template <class L, class S, class Plain>
GLIDEWRIGHT_INLINE void spread(const Plain& plain, S& lanes) {
  static_assert(sizeof(S) / sizeof(L) == sizeof(Plain) / sizeof(double));
  for (unsigned long i = 0; i < sizeof(S) / sizeof(L); ++i) {
    double value;
    __builtin_memcpy(&value, reinterpret_cast<const char*>(&plain) + i * sizeof(double), sizeof value);
    const L everywhere = value;
    __builtin_memcpy(reinterpret_cast<char*>(&lanes) + i * sizeof(L), &everywhere, sizeof everywhere);
  }
}

/// What differs between the lanes' winds, at 10 m: the whole wind under the power law, else what the flight
/// has more than the profile.
template <class L>
struct WindAtReport {
  L along_fps = 0.0;
  L cross_fps = 0.0;
};

/// The wind profile reckoned anew at each height, with its exact gradient. Floor 2 m, cap 1,300 ft, as
/// WindProfile.
template <class L>
struct LaneWind {
  const WindNumbers* profile = nullptr;
  WindAtReport<L> at_report;
  L exponent;

  GLIDEWRIGHT_INLINE LocalWindOf<L> at(const L& height_ft) const {
    constexpr double report_ft = 10.0 / 0.3048, floor_ft = 2.0 / 0.3048, cap_ft = 1300.0;
    const L height = limited(height_ft, L(floor_ft), L(cap_ft));
    const L ratio = power(height * (1.0 / report_ft), exponent);
    const L slope = choose(height == height_ft, ratio * exponent / height, L(0.0));
    LocalWindOf<L> wind = {at_report.along_fps * ratio, at_report.cross_fps * ratio,
                           at_report.along_fps * slope, at_report.cross_fps * slope};
    if (profile->law != WindNumbers::Law::power) add_veering(height, height == height_ft, wind);
    return wind;
  }

 private:
  /// A profile through two measured levels, the direction turning between them.
  [[gnu::noinline]] void add_veering(const L& height, const Mask<L>& within, LocalWindOf<L>& wind) const {
    constexpr double report_ft = 10.0 / 0.3048;
    const double layer_ft = profile->aloft_height_ft - report_ft;
    const L share = limited((height - report_ft) * (1.0 / layer_ft), L(0.0), L(1.0));
    const L share_slope =
        choose(height > report_ft && height < profile->aloft_height_ft, L(1.0 / layer_ft), L(0.0));
    L speed, speed_slope;
    if (profile->law == WindNumbers::Law::power_veering) {
      speed = profile->at_10m_fps * power(height * (1.0 / report_ft), L(profile->exponent));
      speed_slope = choose(within, speed * profile->exponent / height, L(0.0));
    } else {
      speed = profile->at_10m_fps + share * (profile->aloft_fps - profile->at_10m_fps);
      speed_slope = share_slope * (profile->aloft_fps - profile->at_10m_fps);
    }
    const SineCosine<L> off = sine_cosine(profile->from_off_runway_rad + share * profile->veer_rad);
    const L turning = share_slope * profile->veer_rad;
    wind.along_fps -= speed * off.cosine;
    wind.cross_fps -= profile->mirror * (speed * off.sine);
    wind.along_per_s -= speed_slope * off.cosine - speed * off.sine * turning;
    wind.cross_per_s -= profile->mirror * (speed_slope * off.sine + speed * off.cosine * turning);
  }
};

/// The polar from one flap setting to the next.
template <class L>
struct FlapStretch {
  L from_deg = 0.0;
  L per_width = 0.0;
  L parasite = 0.0;  ///< what it adds over its whole width
  L induced = 0.0;
  L stall_kcas = 0.0;
};

template <class L>
struct LaneFlight {
  LaneWind<L> wind;
  L drag_factor = 1.0;
  FlapPolarOf<L> flap_here;  ///< of the flap as it stands in the state, kept by the integrator
  PolarShape<L> shape;
  FlapPolarOf<L> clean;
  FlapStretch<L> stretch[k_most_flap_settings - 1];
  int stretches = 0;
  L kt_per_fps;
  L fps_per_kt;
  L span_ft;
  L wing_ft;
  GustOf<L> gust{};  ///< of this moment in each lane
  static constexpr double slip_factor = 1.0;
  static constexpr Handling handling{};

  GLIDEWRIGHT_INLINE explicit LaneFlight(const BatchOrder& order) {
    wind.profile = &order.wind;
    spread<L>(order.flaps[0], clean);
    stretches = order.flap_count - 1;
    for (int i = 0; i < stretches; ++i) {
      const FlapPolarOf<double>&low = order.flaps[i], &high = order.flaps[i + 1];
      stretch[i] = {L(low.setting_deg), L(1.0 / (high.setting_deg - low.setting_deg)),
                    L(high.parasite - low.parasite), L(high.induced - low.induced),
                    L(high.stall_kcas - low.stall_kcas)};
    }
    span_ft = order.wing_span_ft;
    wing_ft = order.wing_height_ft;
  }

  /// Weight, air and wind's growth with height as they are in each lane's flight.
  GLIDEWRIGHT_INLINE void become(const BatchOrder& order, const DeviationOf<L>& deviation) {
    const L heavier = 1.0 + deviation.weight_relative;
    spread<L>(order.shape, shape);
    shape.speed_squared_at_one = shape.speed_squared_at_one * heavier;
    shape.inverse_speed_squared_at_one = shape.inverse_speed_squared_at_one / heavier;
    shape.weight_share = shape.weight_share * heavier;
    kt_per_fps = order.calibrated_kt_per_fps * square_root(1.0 + deviation.density_relative);
    fps_per_kt = 1.0 / kt_per_fps;
    wind.exponent = limited(order.wind.extra_exponent + deviation.shear_exponent, L(k_least_shear_exponent),
                            L(k_greatest_shear_exponent));
    const L mirror = order.wind.mirror;
    wind.at_report = {order.wind.along_at_report_fps - k_fps_per_knot * deviation.headwind_kt,
                      order.wind.cross_at_report_fps - mirror * k_fps_per_knot * deviation.crosswind_kt};
    drag_factor = 1.0 + deviation.glide_relative;
    gust = {};
  }

  GLIDEWRIGHT_INLINE L calibrated_kt(const L& speed_fps) const { return speed_fps * kt_per_fps; }
  GLIDEWRIGHT_INLINE L true_fps(const L& calibrated_kt) const { return calibrated_kt * fps_per_kt; }
  GLIDEWRIGHT_INLINE const L& wing_height_ft() const { return wing_ft; }
  GLIDEWRIGHT_INLINE const L& wing_span_ft() const { return span_ft; }
  GLIDEWRIGHT_INLINE const PolarShape<L>& polar_shape() const { return shape; }
  GLIDEWRIGHT_INLINE const FlapPolarOf<L>& flap_polar_of(const FlightStateOf<L>&) const { return flap_here; }
  GLIDEWRIGHT_INLINE FlapPolarOf<L> flap_polar(const L& flap_deg) const {
    FlapPolarOf<L> polar = clean;
    for (int i = 0; i < stretches; ++i) {
      const L share = limited((flap_deg - stretch[i].from_deg) * stretch[i].per_width, L(0.0), L(1.0));
      polar.parasite += share * stretch[i].parasite;
      polar.induced += share * stretch[i].induced;
      polar.stall_kcas += share * stretch[i].stall_kcas;
    }
    return polar;
  }
};

}  // namespace glidewright

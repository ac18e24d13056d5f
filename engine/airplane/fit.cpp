#include <algorithm>
#include <cmath>

#include "engine/airplane/airplane.hpp"

namespace glidewright {
namespace {

// Class defaults for light fixed-gear singles: common practice, no source, so their spread is wide. The knee
// and the turn gain describe the steady glide and turn tables of a public flight-dynamics model of such an
// airplane (tests/data/flights), where the parabola alone is 16 % too good at 1.17 stall speeds.
constexpr double k_knee_gain = 0.25;
constexpr double k_knee_start = 0.45;
constexpr double k_turn_drag_gain = 0.2;
constexpr double k_class_slip_drag_ratio = 0.72;
constexpr double k_class_flap_drag_per_degree = 0.007;  // relative growth of drag at approach speed

double knee(double gain, double lift_share) {
  const double past = std::max(0.0, lift_share - k_knee_start);
  return gain * past * past;
}

}  // namespace

Airplane fit_airplane(const Handbook& handbook) {
  Airplane airplane;
  airplane.id = handbook.id;
  airplane.name = handbook.name;
  airplane.handbook = handbook;
  airplane.wing_span_ft = handbook.wing_span_ft.value;
  airplane.wing_height_ft = handbook.wing_height_ft.value;

  Polar& polar = airplane.polar;
  polar.reference_speed_kcas = handbook.best_glide_speed_kcas.value;
  polar.reference_weight_lb = handbook.maximum_weight_lb.value;
  polar.knee_gain = k_knee_gain;
  polar.knee_start = k_knee_start;
  polar.turn_drag_gain = k_turn_drag_gain;
  airplane.assumptions.push_back(
      "drag grows faster than a parabola near the stall and in turns: class default");

  // At the best-glide speed both parts are equal: D/W = A + B with A = B at x = 1. The knee is not active
  // there (check() refuses a best glide that slow), and sin of the glide angle is what drag over weight
  // means.
  const double best = std::sin(std::atan(1.0 / handbook.best_glide_ratio.value));
  const double clean_half = best / 2.0;
  for (const auto& flap : handbook.flaps) {
    FlapPolar part{flap.setting_deg, clean_half, clean_half, flap.stall_speed_kcas.value};
    if (flap.setting_deg > 0.0) {
      const double speed = flap.glide_speed_kcas.value_or(handbook.approach_speed_kcas.value);
      const double x = std::pow(speed / polar.reference_speed_kcas, 2);
      const double lift_share = std::pow(flap.stall_speed_kcas.value / speed, 2);
      // The induced part stays the clean wing's; all of the flap's drag goes where drag grows with V^2.
      const double clean = clean_half * x + clean_half / x;
      double with_flap = clean * (1.0 + k_class_flap_drag_per_degree * flap.setting_deg);
      if (flap.glide_ratio) {
        with_flap = std::sin(std::atan(1.0 / flap.glide_ratio->value)) - knee(k_knee_gain, lift_share);
      } else {
        airplane.assumptions.push_back(
            "drag with flap " + std::to_string(static_cast<int>(flap.setting_deg)) + ": class default");
      }
      part.parasite = std::max(clean_half, (with_flap - clean_half / x) / x);
    }
    polar.flaps.push_back(part);
  }

  double slip_ratio = k_class_slip_drag_ratio;
  if (handbook.slip_drag_ratio) {
    slip_ratio = handbook.slip_drag_ratio->value;
    airplane.slip_sd = handbook.slip_drag_ratio->sd / slip_ratio + 0.05;
  } else {
    airplane.assumptions.push_back("drag of a forward slip: class default");
  }
  polar.slip_parasite = best / slip_ratio - best;  // at x = 1, the best-glide speed

  const double relative = handbook.best_glide_ratio.sd / handbook.best_glide_ratio.value;
  airplane.glide_sd = std::max(0.02, relative);
  return airplane;
}

}  // namespace glidewright

#include <algorithm>
#include <cmath>

#include "engine/airplane/airplane.hpp"
#include "engine/airplane/class_defaults.hpp"

namespace glidewright {
namespace {

/// Drag and lift over weight in a steady glide: sine and cosine of its angle.
struct GlideForces {
  double drag;
  double lift;
};

GlideForces forces_of(double glide_ratio) {
  const double angle = std::atan(1.0 / glide_ratio);
  return {std::sin(angle), std::cos(angle)};
}

/// Drag over weight of the knee in that glide; lift_share: CL / CLmax if lift were the weight.
double knee_of(GlideForces glide, double lift_share, double knee_gain) {
  const double past = std::max(0.0, lift_share * glide.lift - k_knee_start);
  return glide.lift * knee_gain * past * past;
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
  polar.reference_speed_kcas = handbook.least_drag_speed_kcas.value_or(handbook.best_glide_speed_kcas).value;
  polar.reference_weight_lb = handbook.maximum_weight_lb.value;
  polar.knee_gain = handbook.near_stall_drag ? handbook.near_stall_drag->value : k_knee_gain;
  polar.knee_start = k_knee_start;
  polar.turn_drag_gain = handbook.turn_drag ? handbook.turn_drag->value : k_turn_drag_gain;
  if (!handbook.near_stall_drag || !handbook.turn_drag) {
    airplane.assumptions.push_back(
        "drag grows faster than a parabola near the stall and in turns: class default");
  }

  // At the best-glide speed both parts are equal, and with the knee they make the handbook's glide: drag is
  // the sine of its angle where lift is the cosine.
  const double best_glide = polar.reference_speed_kcas;
  const double clean_lift_share =
      handbook.flaps.empty() ? 0.0 : std::pow(handbook.flaps.front().stall_speed_kcas.value / best_glide, 2);
  const GlideForces best = forces_of(handbook.best_glide_ratio.value);
  const double clean_half =
      (best.drag - knee_of(best, clean_lift_share, polar.knee_gain)) / (1.0 + best.lift * best.lift);
  for (const auto& flap : handbook.flaps) {
    FlapPolar part{flap.setting_deg, clean_half, clean_half, flap.stall_speed_kcas.value};
    if (flap.setting_deg > 0.0) {
      const double speed = flap.glide_speed_kcas.value_or(handbook.approach_speed_kcas.value);
      const double x = std::pow(speed / polar.reference_speed_kcas, 2);
      const double lift_share = std::pow(flap.stall_speed_kcas.value / speed, 2);
      // The induced part stays the clean wing's; all of the flap's drag goes where drag grows with V^2.
      const double clean = clean_half * x + clean_half / x;
      double parasite =
          (clean * (1.0 + k_class_flap_drag_per_degree * flap.setting_deg) - clean_half / x) / x;
      if (flap.glide_ratio) {
        const GlideForces glide = forces_of(flap.glide_ratio->value);
        parasite = (glide.drag - knee_of(glide, lift_share, polar.knee_gain) -
                    clean_half * glide.lift * glide.lift / x) /
                   x;
      } else {
        airplane.assumptions.push_back(
            "drag with flap " + std::to_string(static_cast<int>(flap.setting_deg)) + ": class default");
      }
      part.parasite = std::max(clean_half, parasite);
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
  // At the best-glide speed, x = 1.
  const GlideForces slipping = forces_of(handbook.best_glide_ratio.value * slip_ratio);
  polar.slip_parasite = slipping.drag - knee_of(slipping, clean_lift_share, polar.knee_gain) -
                        clean_half * (1.0 + slipping.lift * slipping.lift);

  const double relative = handbook.best_glide_ratio.sd / handbook.best_glide_ratio.value;
  airplane.glide_sd = std::max(k_least_drag_sd, handbook.fitted ? handbook.fitted->drag_sd : relative);
  return airplane;
}

}  // namespace glidewright

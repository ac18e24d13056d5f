#pragma once
// From normal numbers to one pilot on one day.

#include "engine/lanes/philox.hpp"
#include "engine/technique/intent.hpp"
#include "engine/technique/scatter.hpp"

namespace glidewright {

/// Normal numbers that one flight uses up.
inline constexpr int k_draws = 16;

/// One pilot on one day: every scatter drawn. `wind_sd_kt`: of head and cross wind each, gusts included.
template <class L>
GLIDEWRIGHT_INLINE DeviationOf<L> deviation_of(const Scatter& scatter, double wind_sd_kt,
                                               const L (&normal)[k_draws]) {
  DeviationOf<L> deviation;
  deviation.cue_s = scatter.cue_s * normal[0];
  deviation.speed_kt = scatter.speed_kt * normal[1];
  deviation.bank_deg = scatter.bank_deg * normal[2];
  deviation.flap_s = scatter.flap_s * normal[3];
  deviation.spacing_ft = scatter.spacing_ft * normal[4];
  deviation.height_ft = scatter.height_ft * normal[5];
  deviation.headwind_kt = wind_sd_kt * normal[6];
  deviation.crosswind_kt = wind_sd_kt * normal[7];
  deviation.glide_relative = scatter.glide_relative * normal[8];
  deviation.eye_relative = scatter.eye_relative * normal[9];
  deviation.touchdown_speed_kt = scatter.touchdown_speed_kt * normal[10];
  deviation.shear_exponent = scatter.shear_exponent * normal[11];
  // Warmer air is thinner: by a degree in the 288 of a standard day.
  deviation.density_relative = (-1.0 / 288.15) * scatter.temperature_c * normal[12];
  deviation.weight_relative = scatter.weight_relative * normal[13];
  deviation.decision_s = scatter.decision_s * normal[14];
  return deviation;
}

}  // namespace glidewright

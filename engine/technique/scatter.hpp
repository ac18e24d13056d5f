#pragma once
// How people scatter about what they mean to do.

namespace glidewright {

/// Standard deviations of one pilot, and of what he cannot know. Defaults: common practice, no source.
struct Scatter {
  double cue_s = 1.0;
  double speed_kt = 3.0;
  double bank_deg = 4.0;
  double flap_s = 2.0;
  double spacing_ft = 200.0;
  double height_ft = 30.0;
  double wind_kt = 2.0;
  double glide_relative = 0.05;
  double eye_relative = 0.06;  ///< of the distance to go: half a degree in judging an 8-degree glide
  double touchdown_speed_kt = 2.0;
  double shear_exponent = 0.05;    ///< of the power law by which wind grows with height
  double temperature_c = 2.0;      ///< of the air from what was read
  double weight_relative = 0.015;  ///< 35 lb of a trainer
  double decision_s = 0.5;         ///< sooner or later than meant: final turn, flap lever, slip
  /// Not a deviation but a factor on the turbulence that the wind makes (engine/glide/turbulence.hpp): the
  /// specification's intensities are for design, most days are smoother. 0 for none, and then a reported gust
  /// widens the wind of a whole flight instead.
  double turbulence = 0.6;
};

}  // namespace glidewright

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
};

}  // namespace glidewright

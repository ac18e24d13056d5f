#pragma once
// A batch as plain numbers: all that the code of one instruction set gets to see. Nothing here, and nothing
// it includes, may bring in a function that the linker could take from another instruction set: no
// containers, no strings, no optionals.

#include <cstdint>

#include "engine/airplane/drag.hpp"
#include "engine/batch/flown_once.hpp"
#include "engine/technique/intent.hpp"
#include "engine/technique/scatter.hpp"

namespace glidewright {

inline constexpr int k_most_flap_settings = 8;

/// The wind profile of the request, relative to the runway.
struct WindNumbers {
  enum class Law { power, power_veering, linear_veering };
  Law law = Law::power;
  double along_at_report_fps = 0.0;  ///< at 10 m in the pattern frame, under the power law; else 0
  double cross_at_report_fps = 0.0;
  double at_10m_fps = 0.0;  ///< the rest: for the veering laws
  double aloft_fps = 0.0;
  double from_off_runway_rad = 0.0;  ///< at 10 m, off the landing direction
  double veer_rad = 0.0;             ///< from 10 m to the level aloft
  double aloft_height_ft = 1000.0;
  double exponent = 0.0;        ///< of the profile
  double extra_exponent = 0.0;  ///< of what a flight has more of it
  double mirror = 1.0;          ///< -1 for right-hand traffic
};

struct BatchOrder {
  // The airplane.
  FlapPolarOf<double> flaps[k_most_flap_settings];
  int flap_count = 1;
  PolarShape<double> shape;
  double wing_span_ft = 36.0;
  double wing_height_ft = 7.0;
  // The air.
  double calibrated_kt_per_fps = 1.0;
  WindNumbers wind;
  // The pilot.
  TechniqueNumbers technique;
  Scatter scatter;
  double wind_sd_kt = 0.0;
  // Which flights: every cue with the luck of flights first to first + count - 1, or with these deviations.
  const double* cues_s = nullptr;
  std::int64_t cue_count = 0;
  std::int64_t first = 0;
  std::int64_t count = 0;
  std::uint64_t seed = 1;
  double vertical_gust_sd_fps = 0.0;                ///< 0: smooth air
  const DeviationOf<double>* deviations = nullptr;  ///< `count` of them, or none
  int steps_between_ticks = 1;
  FlownOnce* flown = nullptr;  ///< cue_count x count
};

}  // namespace glidewright

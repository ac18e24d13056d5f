#pragma once
// What a line of cells does in one step, compiled once for each instruction set. Plain numbers and pointers
// only, so that code for one instruction set shares no inline function with the others.

#include <cstddef>
#include <cstdint>

namespace glidewright::reach {

/// Polynomials of the wind in scaled height, ahead and aside of the lines (see SmoothWind).
struct WindTerms {
  static constexpr int k_terms = 6;
  static constexpr int k_slope_terms = k_terms - 1;
  float ahead_fps[k_terms];
  float aside_fps[k_terms];
  float ahead_per_s[k_slope_terms];
  float aside_per_s[k_slope_terms];
  float middle_ft;
  float scaled_per_ft;
};

/// What one step needs of its heading, in the order of the board: "ahead" is across the lines.
struct Step {
  float air_ahead_fps = 0.0F;
  float air_aside_fps = 0.0F;
  float energy_above_final_ft = 0.0F;
  float sink_fps = 0.0F;
  float shear_ahead = 0.0F;  ///< weight of the slopes in the shear, times V / g
  float shear_aside = 0.0F;
  float seconds = 0.0F;  ///< of a turn
  float extra_ft = 0.0F;
};

// Lines are worked through in whole vectors: up to 15 cells after the last one, and as many before the first
// of some, are read too, and after the last one that turns are written.

/// One line of the turn: `rows` are the four lines around the nearest one, at the cell that the first cell
/// turns to.
struct TurnLine {
  const float* rows[4];
  float lines_fixed;  ///< way ahead and aside without wind, less the whole lines and cells already counted
  float cells_fixed;
  float wind_cells;  ///< cells for each ft/s of wind
  int width;
};

/// Cells [first, last) of a line that are flown straight on to the next one, where that is better.
struct StraightLine {
  const float* next;  ///< at the cell that the first cell of the line goes to
  float cell_ft;
  float side;  ///< +1: ahead is towards greater line numbers; else -1
  float cells_fixed;
  int first;
  int last;
  bool lowest;
};

struct SweepCode {
  void (*turn)(const WindTerms&, const Step&, const TurnLine&, float* out);
  void (*straight)(const WindTerms&, const Step&, const StraightLine&, float* out);
  /// Rounds to half feet.
  void (*keep)(const float* heights_ft, int count, std::int16_t* half_feet);
};

SweepCode sweep_code_baseline();
#if defined(__x86_64__)
SweepCode sweep_code_avx2();
SweepCode sweep_code_avx512();
#endif

}  // namespace glidewright::reach

#pragma once
// What the pilot may still use, and what a band is asked for.

#include <vector>

#include "engine/plan/plan.hpp"

namespace glidewright {

/// The means that a band reckons with. Turns are to the pattern's side only: nobody is taught to turn away.
struct AllowedMeans {
  double bank_deg = 30.0;  ///< of every turn
  /// The base turn has begun by here: a band's upper edge is the path that uses all of it. 1 NM: common
  /// practice, no source.
  double farthest_past_abeam_ft = 6076.0;
  double first_flap_from_deg = 100.0;   ///< of heading still to turn: wings level on base
  double landing_flap_from_deg = 80.0;  ///< from the final turn on
  double gate_height_ft = 200.0;        ///< wings level and lined up by here
  bool slip = true;                     ///< wings level on final
  double slip_out_height_ft = 100.0;
};

/// What the upper edge is allowed to spend height with, each with those before it.
enum class Spends { path, flaps, slip };

/// Cells of the grid. The error falls about with their size (docs/measured.md).
struct ReachGrid {
  double cell_ft = 40.0;
  double heading_deg = 5.0;

  ReachGrid twice_as_coarse() const { return {2.0 * cell_ft, 2.0 * heading_deg}; }
};

/// Which places and headings are asked for: the pattern as it is flown, or every heading on both sides of it.
struct ReachRegion {
  double along_low_ft = -8000.0;
  double along_high_ft = 1500.0;
  double cross_low_ft = -4200.0;
  double cross_high_ft = 700.0;
  double heading_to_turn_deg = 220.0;  ///< greatest heading still to turn to the landing direction

  /// Round the pattern of this spacing, with the room that the turns at both its ends need.
  static ReachRegion pattern(double spacing_ft, const AllowedMeans& means);
  /// The same on both sides of the runway and with every heading.
  static ReachRegion full(double spacing_ft, const AllowedMeans& means);
};

/// One band: airplane, air, the technique's speeds and flaps, the box and the means.
struct BandRequest {
  Airplane airplane;
  Conditions conditions;
  Technique technique;
  Scatter scatter;  ///< wind and glide of it make the band that holds nine times in ten
  Box box;
  AllowedMeans means;
  ReachGrid grid;
  ReachRegion region;
  /// Every way passes them, within 150 ft of the place, by at least `obstacle_clearance_ft`: the lowest edges
  /// are raised, and a mean whose steepest glide into the box would not clear one on final is not counted.
  std::vector<Obstacle> obstacles;
  double obstacle_clearance_ft = k_obstacle_clearance_ft;
};

}  // namespace glidewright

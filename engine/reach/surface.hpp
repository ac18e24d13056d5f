#pragma once
// One edge of the band: for each place and heading the energy height from which the box is just reached.
//
// The edge is a surface over (along, cross, heading) and not a body with height as a fourth coordinate: on
// the way that just reaches the box the height of the airplane IS the edge at every place passed, so wind
// and density are taken there. Turns go to the pattern's side only, so headings can be swept once, from the
// landing direction outwards, and within one heading the straight glide sweeps the lines of the grid once.

#include <cstdint>
#include <memory>
#include <vector>

#include "engine/reach/final_leg.hpp"

namespace glidewright::reach {

class EdgeSurface {
 public:
  /// Energy height at a place and heading (pattern frame, radians from the landing direction, right
  /// positive), linear between cells; held at the region's edges.
  double height_ft(double along_ft, double cross_ft, double heading_rad) const;
  const FinalLeg& final_leg() const { return final_leg_; }
  double crab_rad() const { return final_leg_.crab_rad(); }
  double heading_step_rad() const { return heading_step_rad_; }
  std::size_t bytes() const;

 private:
  friend class Sweep;
  std::size_t cells_of_layer() const {
    return static_cast<std::size_t>(along_count_) * static_cast<std::size_t>(cross_count_);
  }
  double in_layer(std::size_t layer, double along_cells, double cross_cells) const;

  double cell_ft_ = 40.0;
  double along_low_ft_ = 0.0;
  double cross_low_ft_ = 0.0;
  int along_count_ = 0;
  int cross_count_ = 0;
  FinalLeg final_leg_;  ///< its crab is the heading of the first layer
  double heading_step_rad_ = 0.0;
  /// One for each heading: whether a line has one along and every cross, or one cross and every along. Lines
  /// lie across the glide's main direction, so that a whole line is stepped at once.
  std::vector<bool> lines_are_along_;
  /// Layer after layer, line after line; a quarter of a foot is far below every other error. One block, into
  /// which each cell is written once. Copies share it.
  std::shared_ptr<const std::int16_t[]> half_feet_;
};

/// The edge that ends on this final leg. Error: see docs/measured.md, band.
EdgeSurface sweep_edge(const Flight& flight, const BandRequest& request, const EdgeRules& rules,
                       const ReachGrid& grid, const FinalLeg& final_leg);

}  // namespace glidewright::reach

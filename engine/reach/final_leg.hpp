#pragma once
// The last leg of the band: on the centreline, where only the place is left to ask for.

#include <vector>

#include "engine/reach/leg_rates.hpp"

namespace glidewright::reach {

/// Of the way from the gate down.
struct PlaceOnFinal {
  double along_ft = 0.0;  ///< from the gate
  double height_ft = 0.0;
};

/// What hangs from the wings on final.
struct FinalMeans {
  double flap_deg = 0.0;
  double slip = 0.0;  ///< of the full slip

  bool operator==(const FinalMeans&) const = default;
};
FinalMeans final_means(const Flight& flight, const BandRequest& request, const EdgeRules& rules);

/// From the gate down with these means, flare and float included, as the reference integrator flies it.
/// Edges that end with the same means share it: it is the dearest part of a final leg.
struct FlownFinal {
  FinalMeans means;
  std::vector<PlaceOnFinal> way;
  double touchdown_ft = 0.0;  ///< from the gate
};
FlownFinal fly_final(const Flight& flight, const BandRequest& request, const FinalMeans& means);

/// Energy height at each place on the centreline from which the wheels touch at `target`: at the gate as the
/// reference integrator flies it, flare and float included, above the gate by steady gliding.
class FinalLeg {
 public:
  FinalLeg() = default;
  FinalLeg(const Flight& flight, const BandRequest& request, const EdgeRules& rules, double target_ft,
           const FlownFinal& flown);

  /// Some glide with these rules clears the obstacles of the final and touches down in the box. A lowest edge
  /// for which this is false ends beyond the box, at the least height that clears them.
  bool into_the_box() const { return into_the_box_; }
  /// Where the wheels touch: the target, or farther where an obstacle asks for it.
  double touchdown_ft() const { return touchdown_ft_; }
  /// Where the gate's height is just right.
  double gate_along_ft() const { return gate_along_ft_; }
  /// Below the gate carried on at the slope that it has there.
  double height_ft(double along_ft) const;
  /// Below the gate as it was flown, flare and float included.
  double flown_height_ft(double along_ft) const;
  /// What a slip cannot yet spend when the last turn ends: wings level first, then hands and rudder in.
  double slip_comes_late_ft() const { return slip_comes_late_ft_; }
  /// Nose against the wind on the way, radians; the heading that is lined up.
  double crab_rad() const { return crab_rad_; }
  /// Price of being lined up beside the centreline: just dearer than the height that the way to it costs, or
  /// spends, so that no path is drawn to the side.
  double price_ft(double cross_ft) const {
    return cross_ft > 0.0 ? beyond_per_ft_ * cross_ft : -short_of_per_ft_ * cross_ft;
  }

 private:
  static constexpr double k_step_ft = 10.0;
  bool into_the_box_ = true;
  double touchdown_ft_ = 0.0;
  double gate_along_ft_ = 0.0;
  double crab_rad_ = 0.0;
  double slip_comes_late_ft_ = 0.0;
  double short_of_per_ft_ = 0.5;
  double beyond_per_ft_ = 0.5;
  std::vector<double> heights_ft_;  ///< every k_step_ft before the gate
  std::vector<PlaceOnFinal> below_gate_;
};

}  // namespace glidewright::reach

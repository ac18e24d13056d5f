#pragma once
// The reachable band: the lowest and highest height from which the box can still be reached, and with what.

#include <array>
#include <functional>
#include <memory>
#include <vector>

#include "engine/batch/share_out.hpp"
#include "engine/reach/surface.hpp"

namespace glidewright {

/// The airplane somewhere on its way, in the pattern frame (left-hand pattern, engine/glide/motion.hpp).
struct PlaceInPattern {
  double along_ft = 0.0;
  double cross_ft = 0.0;
  double heading_rad = 0.0;  ///< of the nose, from the landing direction
  double height_ft = 0.0;    ///< above the point
  double speed_fps = 0.0;    ///< true; 0: as taught at this heading
  double bank_rad = 0.0;
  double thrust_over_weight = 0.0;  ///< what still fades after the lever was closed
  double flap_deg = 0.0;            ///< out already, and never taken back
};

PlaceInPattern place_of(const FlightState& state);

/// Heights at one place, geometric, for the speed that the airplane has there.
struct Room {
  double lowest_ft = 0.0;    ///< the shortest way in, nothing more spent
  double by_path_ft = 0.0;   ///< highest with the path alone: the longest that is allowed
  double by_flaps_ft = 0.0;  ///< and flaps
  double by_slip_ft = 0.0;   ///< and a slip
  /// The landing flap is a step that cannot be taken back. Lowest and highest for who sets it as taught, and
  /// highest for who leaves it up and slips: where that is below the first, no way serves between the two.
  double lowest_with_landing_flap_ft = 0.0;
  double highest_with_landing_flap_ft = 0.0;
  double highest_without_landing_flap_ft = 0.0;
  double error_ft = 0.0;  ///< of each, as far as the grid goes: what halving its cells changed

  /// The box can be reached from some height here.
  bool open() const { return lowest_ft <= by_slip_ft; }
  /// Distance from the nearer edge of what can be reached, a gap within it left out; negative outside.
  double margin_ft(double height_ft) const;
  double margin_with_landing_flap_ft(double height_ft) const;
  double margin_without_landing_flap_ft(double height_ft) const;
};

enum class Surety { mean, nine_in_ten };

/// Edges over all of the pattern, for the mean wind and airplane and for nine in ten of them.
class Band {
 public:
  /// With Surety::mean the spread of wind and glide is left out, which saves a third of the time.
  static Band over(const BandRequest& request, Surety surety = Surety::nine_in_ten,
                   const ShareOut& share_out = one_after_another);

  Room room(const PlaceInPattern& place, Surety surety) const;

  /// Lined up on final at final speed: the height from which the wheels touch there with this flap and no
  /// slip.
  double height_on_final_ft(double along_ft, double flap_deg, double touchdown_ft) const;

  const BandRequest& request() const { return *request_; }
  const Flight& flight() const { return *flight_; }
  /// Nose against the wind when lined up, radians.
  double crab_rad() const { return edges_.front().fine.crab_rad(); }
  std::size_t bytes() const;

 private:
  /// One edge: fine, and coarse ones for its error and its change with wind and glide.
  struct Edge {
    reach::EdgeRules rules;
    reach::EdgeSurface fine;
    reach::EdgeSurface coarse;
    std::array<reach::EdgeSurface, 3> changed;  ///< headwind, crosswind, glide by one standard deviation
  };
  struct EdgeHeight {
    double height_ft = 0.0;
    double error_ft = 0.0;
  };

  explicit Band(const BandRequest& request);
  EdgeHeight at(const Edge& edge, const PlaceInPattern& settled, Surety surety) const;
  const Edge& lowest_with(double flap_deg) const;

  // Shared, so that a band can be copied and its flight still finds its airplane.
  std::shared_ptr<const BandRequest> request_;
  std::shared_ptr<const Flight> flight_;
  bool with_spread_ = true;
  std::vector<Edge> edges_;  ///< lowest for every flap setting, clean first; then the others
};

}  // namespace glidewright

#pragma once
// The band along a track: what was still open at each place, and where each mean could last have helped.

#include <optional>
#include <string>
#include <vector>

#include "engine/reach/band.hpp"

namespace glidewright {

/// The band at one moment of a track. Runway frame: along and cross are not mirrored.
struct RoomOnTrack {
  double time_s = 0.0;
  double along_ft = 0.0;
  double cross_ft = 0.0;
  double height_ft = 0.0;
  Room mean;
  Room sure;  ///< nine in ten winds and airplanes
  bool inside() const { return height_ft >= mean.lowest_ft && height_ft <= mean.by_slip_ft; }
};

/// After this moment the mean did not suffice any more: too low even for the shortest way in, or too high
/// for the longest path, with flaps, with a slip.
struct LastChance {
  enum class Mean { shortest_way, path, flaps, slip } mean = Mean::path;
  double time_s = 0.0;
  double height_ft = 0.0;
};

/// From abeam to the gate; below it there is no room to print.
struct BandAlong {
  std::vector<RoomOnTrack> places;
  std::vector<LastChance> last_chances;
  double error_ft = 0.0;  ///< largest of the grid along the track
  /// Why no place is open ("from this spacing the point is out of reach below 1,060 ft"); empty otherwise.
  std::string empty_because;
};

/// Moments of a track in the runway frame; every `every_s` seconds one is asked.
BandAlong band_along(const Band& band, const std::vector<Moment>& track, double every_s = 1.0);

/// The place of a moment in the band's frame.
PlaceInPattern place_of(const Moment& moment, const Conditions& conditions);

}  // namespace glidewright

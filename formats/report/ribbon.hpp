#pragma once
// The band on the energy strip: from where the box could still be reached, in nine of ten winds.

#include <string>
#include <vector>

#include "engine/reach/along.hpp"
#include "engine/reach/contours.hpp"
#include "formats/report/flown_path.hpp"
#include "formats/report/mapping.hpp"

namespace glidewright::report {

/// Three layers, each named where there is room: the path alone, flaps, slip. Heights above `top_ft` are cut
/// off. Where the band is closed there is nothing; below the gate never.
std::string ribbon(const BandAlong& band, const std::vector<PathPlace>& path, const Mapping& x,
                   const Mapping& y, double top_ft);

/// A cross on the path at each last chance, named where its name ends before `right`, the picture's edge.
std::string last_chance_ticks(const BandAlong& band, const std::vector<PathPlace>& path, const Mapping& x,
                              const Mapping& y, double right);

/// From above: lines outside which the box was out of reach, each named by its height. `right` and `top` are
/// the picture's edges, within which a name has to stay.
std::string reach_lines(const std::vector<ReachContour>& contours, const Mapping& x, const Mapping& y,
                        double right, double top);

}  // namespace glidewright::report

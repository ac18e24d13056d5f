#pragma once
// What the energy strip and the ground sketch are put together from, be it a flight's or a plan's.

#include <string>
#include <string_view>
#include <vector>

#include "engine/plan/plan.hpp"
#include "engine/track/runway.hpp"
#include "formats/report/flown_path.hpp"
#include "formats/report/mapping.hpp"

namespace glidewright::report {

struct DrawingSize {
  double width = 640.0;
  double height = 300.0;
};

std::string polyline(const std::vector<PathPlace>& path, const Mapping& x, const Mapping& y,
                     double PathPlace::*across, double PathPlace::*up, std::string_view css_class);

/// The whole SVG; `label` says in words what it shows.
std::string drawing(DrawingSize size, const std::string& label, const std::string& inside);

/// Ground line and heights.
std::string strip_grid(double top_ft, const Mapping& y, double left, double right);

/// An open dot every 20 s.
std::string ghosts(const std::vector<PathPlace>& path, const Mapping& x, const Mapping& y,
                   double PathPlace::*across, double PathPlace::*up, std::string_view anchor, double label_dx,
                   double label_dy);

/// What a ground sketch has to show: never less than the runway's near part.
struct GroundExtent {
  double low_ft = -800.0, high_ft = 900.0;  ///< along
  double out_ft = 800.0;

  void hold(const std::vector<PathPlace>& path);
};

/// The runway within the extent, the box on it, and their names `names_dy` below.
std::string runway_on_ground(const RunwayFrame& frame, Box box, const GroundExtent& extent, const Mapping& x,
                             double y, DrawingSize size, double names_dy);

}  // namespace glidewright::report

#include "formats/report/drawing_parts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "formats/report/markup.hpp"
#include "formats/words/numbers.hpp"

namespace glidewright::report {
namespace {

constexpr double k_ghost_s = 20.0;
constexpr double k_too_near_the_end_ft = 600.0;  // a dot there would hide the box

/// Heights for the y axis: three to seven lines.
double height_step_ft(double top_ft) {
  return top_ft > 1400.0 ? 400.0 : 200.0;
}

}  // namespace

std::string polyline(const std::vector<PathPlace>& path, const Mapping& x, const Mapping& y,
                     double PathPlace::*across, double PathPlace::*up, std::string_view css_class) {
  std::string points;
  for (const PathPlace& place : path) points += at(x(place.*across)) + "," + at(y(place.*up)) + " ";
  return fmt::format("<polyline class=\"{}\" points=\"{}\"/>", css_class, points);
}

std::string drawing(DrawingSize size, const std::string& label, const std::string& inside) {
  return fmt::format("<svg viewBox=\"0 0 {} {}\" role=\"img\" aria-label=\"{}\">{}</svg>", at(size.width),
                     at(size.height), escaped(label), inside);
}

std::string strip_grid(double top_ft, const Mapping& y, double left, double right) {
  std::string grid;
  for (double height = height_step_ft(top_ft); height < top_ft; height += height_step_ft(top_ft)) {
    grid += line(left, y(height), right, y(height), "hair");
    grid += text(left - 6.0, y(height) + 4.0, "end", "label", whole(height));
  }
  return grid + line(left, y(0.0), right, y(0.0), "axis");
}

std::string ghosts(const std::vector<PathPlace>& path, const Mapping& x, const Mapping& y,
                   double PathPlace::*across, double PathPlace::*up, std::string_view anchor, double label_dx,
                   double label_dy) {
  std::string dots;
  for (double t = k_ghost_s; const auto place = place_at(path, t); t += k_ghost_s) {
    if (place->to_go_ft < k_too_near_the_end_ft) break;
    dots += circle(x((*place).*across), y((*place).*up), 3.5, "ghost");
    // On short final the words would lie on the runway's.
    const bool over_the_runway = label_dx > 0.0 && place->out_ft < 200.0 && std::abs(place->along_ft) < 900.0;
    if (!over_the_runway)
      dots += text(x((*place).*across) + label_dx, y((*place).*up) + label_dy, anchor, "label",
                   fmt::format("{:.0f} s", t));
  }
  return dots;
}

void GroundExtent::hold(const std::vector<PathPlace>& path) {
  for (const PathPlace& place : path) {
    low_ft = std::min(low_ft, place.along_ft);
    high_ft = std::max(high_ft, place.along_ft);
    out_ft = std::max(out_ft, place.out_ft);
  }
}

std::string runway_on_ground(const RunwayFrame& frame, Box box, const GroundExtent& extent, const Mapping& x,
                             double y, DrawingSize size, double names_dy) {
  const double threshold_ft = std::max(frame.threshold_along_ft(), extent.low_ft);
  const double end_ft = std::clamp(frame.runway_end_along_ft(), threshold_ft, extent.high_ft);
  return rectangle(x(threshold_ft), y - 4.0, x(end_ft) - x(threshold_ft), 8.0, "runway") +
         rectangle(x(box.low_ft), y - 4.0, x(box.high_ft) - x(box.low_ft), 8.0, "solid") +
         text(x(0.0), y + names_dy, "middle", "label", "0") +
         text(size.width - 4.0, y + names_dy, "end", "name", frame.runway().designator + " →");
}

}  // namespace glidewright::report

#include "formats/runway_json.hpp"

#include <fmt/format.h>

#include <array>

#include "formats/number.hpp"
#include "formats/shown.hpp"

namespace glidewright {
namespace {

constexpr JsonRange k_elevation_ft{-1500.0, 20000.0};
constexpr JsonRange k_length_ft{300.0, 20000.0};

/// 180 and 360 are the other names of -180 and 0.
double wrapped_longitude(double longitude_deg) {
  return longitude_deg == 180.0 ? -180.0 : longitude_deg;
}

void displace_threshold(JsonFields& fields, Runway& runway) {
  double displaced_ft = 0.0;
  fields.replace_number("displaced_ft", {0.0, 5000.0}, displaced_ft);
  if (displaced_ft == 0.0) return;
  if (runway.length.value - displaced_ft < k_length_ft.low) {
    return fields.add_problem(
        "displaced_ft",
        fmt::format("a threshold displaced by {:.10g} ft leaves {:.10g} ft to land on; expected {:.10g}",
                    displaced_ft, runway.length.value - displaced_ft, k_length_ft.low));
  }
  const RunwayFrame from_the_beginning(runway, Feet{0.0});
  const Feet rise{displaced_ft * runway.slope_percent / 100.0};
  runway.threshold = from_the_beginning.to_geodetic({displaced_ft, 0.0});
  runway.length = runway.length - Feet{displaced_ft};
  runway.elevation = runway.elevation + rise;
}

Runway read_runway(JsonFields& fields) {
  Runway runway;
  bool invented = false;
  std::string description;
  fields.expect_schema("glidewright.runway/1");
  fields.replace_flag("invented", invented);
  fields.replace_text("description", description);
  runway.airfield = fields.text("airfield");
  runway.designator = fields.text("designator");
  runway.threshold.latitude_deg = fields.number("threshold_latitude_deg", {-90.0, 90.0});
  runway.threshold.longitude_deg =
      wrapped_longitude(fields.number("threshold_longitude_deg", {-180.0, 180.0}));
  runway.true_bearing.value = wrap_360_deg(fields.number("true_bearing_deg", {0.0, 360.0}));
  runway.elevation.value = fields.number("elevation_ft", k_elevation_ft);
  runway.length.value = fields.number("length_ft", k_length_ft);
  fields.replace_number("width_ft", {10.0, 1000.0}, runway.width.value);
  fields.replace_number("position_sd_ft", {0.1, 3000.0}, runway.position_sd.value);
  fields.replace_number("slope_percent", {-10.0, 10.0}, runway.slope_percent);
  displace_threshold(fields, runway);
  runway.obstacles = read_obstacles(fields);
  return runway;
}

struct RunwayTextField {
  std::string_view what;
  JsonRange range;
};

constexpr std::array<RunwayTextField, 5> k_text_fields{{{"latitude", {-90.0, 90.0}},
                                                        {"longitude", {-180.0, 180.0}},
                                                        {"true bearing", {0.0, 360.0}},
                                                        {"elevation", k_elevation_ft},
                                                        {"length", k_length_ft}}};

}  // namespace

std::vector<RunwayObstacle> read_obstacles(JsonFields& runway) {
  constexpr std::size_t at_most = 50;
  std::vector<RunwayObstacle> obstacles;
  if (!runway.has("obstacles")) return obstacles;
  auto listed = runway.objects("obstacles");
  if (listed.size() > at_most) {
    runway.add_problem("obstacles",
                       fmt::format("{} of them; at most {} are reckoned with: keep those that the "
                                   "way in has to clear",
                                   listed.size(), at_most));
    return obstacles;
  }
  for (JsonFields& fields : listed) {
    RunwayObstacle obstacle;
    fields.replace_text("what", obstacle.what);
    obstacle.before_threshold_ft = fields.number("before_threshold_ft", {-20000.0, 30000.0});
    fields.replace_number("right_of_centreline_ft", {-30000.0, 30000.0}, obstacle.right_ft);
    obstacle.top_ft = fields.number("top_above_threshold_ft", {-500.0, 3000.0});
    double along_ft = 0.0;  // what the program itself writes beside it
    fields.replace_number("along_ft", {-50000.0, 50000.0}, along_ft);
    fields.refuse_unknown_fields();
    obstacles.push_back(std::move(obstacle));
  }
  return obstacles;
}

Result<Runway> read_runway_json(std::string_view bytes, std::string_view name) {
  return read_json_object(bytes, name, read_runway);
}

Result<Runway> read_runway_text(std::string_view text) {
  std::array<double, k_text_fields.size()> numbers{};
  auto rest = text;
  for (std::size_t i = 0; i < numbers.size(); ++i) {
    const bool is_last = i + 1 == numbers.size();
    const auto comma = rest.find(',');
    if ((comma == std::string_view::npos) != is_last) {
      return Error{fmt::format(
          "runway '{}'; expected five numbers: lat,lon,true-bearing,elevation-ft,length-ft", shown(text))};
    }
    const auto written = rest.substr(0, comma);
    const auto& [what, range] = k_text_fields[i];
    const auto number = read_number(written);
    if (!number || *number < range.low || *number > range.high) {
      return Error{fmt::format("runway {} {}; expected {:.10g} to {:.10g}", what, shown(trim_blanks(written)),
                               range.low, range.high)};
    }
    numbers[i] = *number;
    rest = is_last ? std::string_view() : rest.substr(comma + 1);
  }
  Runway runway;
  runway.threshold = {numbers[0], wrapped_longitude(numbers[1])};
  runway.true_bearing = {wrap_360_deg(numbers[2])};
  runway.elevation = {numbers[3]};
  runway.length = {numbers[4]};
  runway.designator = fmt::format("{:03.0f} true", runway.true_bearing.value);
  return runway;
}

}  // namespace glidewright

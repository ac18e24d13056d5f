#include "formats/report/plan_drawings.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "formats/report/markup.hpp"
#include "formats/report/ribbon.hpp"
#include "formats/words/numbers.hpp"

namespace glidewright::report {
namespace {

struct NamedPlace {
  const char* name;
  PathPlace place;
};

std::vector<NamedPlace> named_places(const Approach& planned, const std::vector<PathPlace>& path) {
  std::vector<NamedPlace> places;
  const auto add = [&](const char* name, const Moment& moment) {
    if (const auto place = place_at(path, moment.time_s)) places.push_back({name, *place});
  };
  add("abeam", planned.abeam);
  add("base", planned.base_turn);
  if (planned.final_turn) add("final", *planned.final_turn);
  if (planned.gate) add("gate", *planned.gate);
  return places;
}

std::vector<PathPlace> path_of_plan(const Brief& brief) {
  if (!brief.answer.plan) return {};
  return path_of(brief.answer.plan->nominal, brief.request.conditions.traffic);
}

constexpr std::size_t k_least_places = 10;

}  // namespace

std::string planned_strip(const Brief& brief, DrawingSize size) {
  const auto path = path_of_plan(brief);
  if (path.size() < k_least_places) return {};
  double top_ft = 400.0;
  for (const PathPlace& place : path) top_ft = std::max(top_ft, place.height_ft);
  // The slip's room high over abeam would press the approach flat.
  if (brief.band) top_ft *= 1.35;
  top_ft *= 1.06;
  const double longest_ft = path.front().to_go_ft;
  const double left = 40.0, right = size.width - 12.0, top = 16.0, bottom = size.height - 20.0;
  const Mapping x{longest_ft, (left - right) / longest_ft, left};
  const Mapping y{0.0, (top - bottom) / top_ft, bottom};
  std::string inside = brief.band ? ribbon(brief.band->along, path, x, y, top_ft) : "";
  inside += strip_grid(top_ft, y, left, right);
  for (const auto& [name, place] : named_places(brief.answer.plan->nominal, path)) {
    inside += line(x(place.to_go_ft), top, x(place.to_go_ft), bottom, "rule");
    inside += text(x(place.to_go_ft), top - 4.0, "middle", "name", name);
  }
  for (double to_go = 0.0; to_go < longest_ft; to_go += 2000.0)
    inside += text(x(to_go), bottom + 15.0, "middle", "label", to_go == 0.0 ? "0" : whole(to_go));
  inside += polyline(path, x, y, &PathPlace::to_go_ft, &PathPlace::height_ft, "planned");
  inside += ghosts(path, x, y, &PathPlace::to_go_ft, &PathPlace::height_ft, "end", -6.0, 14.0);
  return drawing(size, "Height of the planned approach against distance to go, on its band.", inside);
}

std::string planned_sketch(const Brief& brief, DrawingSize size) {
  const auto path = path_of_plan(brief);
  if (path.size() < k_least_places) return {};
  const Plan& plan = *brief.answer.plan;
  GroundExtent extent;
  extent.hold(path);
  const auto& [low_ft, high_ft, out_ft] = extent;
  const double margin = 8.0, bottom = size.height - 22.0, above = 26.0;
  const double per_ft = std::min((size.width - 2.0 * margin) / (high_ft - low_ft), (bottom - above) / out_ft);
  const Mapping x{low_ft, per_ft, 0.5 * (size.width - per_ft * (high_ft - low_ft))};
  const Mapping y{0.0, -per_ft, bottom};
  const RunwayFrame frame(brief.runway, brief.touchdown_point);
  std::string inside = runway_on_ground(frame, brief.request.box, extent, x, bottom, size, 17.0);
  inside += polyline(path, x, y, &PathPlace::along_ft, &PathPlace::out_ft, "planned");
  for (const auto& [name, place] : named_places(plan.nominal, path))
    inside += circle(x(place.along_ft), y(place.out_ft), 2.5, "place");

  // The two cues: how far past abeam, and the point seen over the shoulder.
  const auto turn = place_at(path, plan.nominal.base_turn.time_s);
  if (!turn) return drawing(size, "The planned pattern from above.", inside);
  const double wing = y(turn->out_ft), shoulder = x(turn->along_ft), abeam = x(0.0);
  inside += line(shoulder, wing, abeam, bottom, "rule");
  inside += line(shoulder, wing, shoulder, wing + 0.45 * (bottom - wing), "hair");
  inside += line(shoulder, wing - 9.0, abeam, wing - 9.0, "axis");
  inside += line(shoulder, wing - 13.0, shoulder, wing - 5.0, "axis");
  inside += line(abeam, wing - 13.0, abeam, wing - 5.0, "axis");
  inside += text(0.5 * (shoulder + abeam), wing - 13.0, "middle", "name",
                 fmt::format("{:.0f} s", plan.cue.seconds_past_abeam));
  inside += text(shoulder + 8.0, wing + 0.45 * (bottom - wing) + 12.0, "start", "name",
                 whole(plan.cue.angle_behind_wing_deg) + "°");
  return drawing(size,
                 fmt::format("The planned pattern from above: base is turned {:.0f} s past abeam.",
                             plan.cue.seconds_past_abeam),
                 inside);
}

}  // namespace glidewright::report

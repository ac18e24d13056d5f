#include "formats/report/drawings.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "formats/report/drawing_parts.hpp"
#include "formats/report/flown_path.hpp"
#include "formats/report/mapping.hpp"
#include "formats/report/markup.hpp"
#include "formats/report/ribbon.hpp"
#include "formats/words/numbers.hpp"
#include "formats/words/sentences.hpp"

namespace glidewright::report {
namespace {

struct NamedMoment {
  const char* name;
  const std::optional<KeyPoint>& point;
};

std::vector<NamedMoment> named_moments(const Attempt& attempt) {
  return {{"abeam", attempt.abeam},
          {"base turn", attempt.base_turn},
          {"final turn", attempt.final_turn},
          {"gate", attempt.gate},
          {"go-around", attempt.go_around}};
}

/// Names over their verticals, one above the other where they would touch.
std::string strip_moments(const Attempt& attempt, const std::vector<PathPlace>& path, const Mapping& x,
                          double top, double bottom, double right) {
  std::string marks;
  double last_end = -1e9;
  bool raised = false;
  for (const auto& [name, point] : named_moments(attempt)) {
    if (!point) continue;
    const auto place = place_at(path, point->time_unix_s - attempt.zero_unix_s());
    if (!place) continue;
    const double here = x(place->to_go_ft), half = 3.6 * static_cast<double>(std::string_view(name).size());
    raised = here - half < last_end + 6.0 && !raised;
    last_end = std::max(last_end, here + half);
    marks += line(here, top, here, bottom, "rule");
    const bool at_the_edge = here + half > right;
    marks += text(at_the_edge ? right : here, raised ? top - 18.0 : top - 5.0, at_the_edge ? "end" : "middle",
                  "name", name);
  }
  return marks;
}

std::string flap_ticks(const AttemptDebrief& one, const std::vector<PathPlace>& path, const Mapping& x,
                       const Mapping& y) {
  std::string ticks;
  if (!one.marks || !one.marks->flaps) return ticks;
  for (const MarkedFlap& flap : *one.marks->flaps) {
    const auto time = time_of(flap.at, one.attempt);
    const auto place = time ? place_at(path, *time - one.attempt.zero_unix_s()) : std::nullopt;
    if (!place) continue;
    const double here = x(place->to_go_ft), there = y(place->height_ft);
    ticks += line(here, there - 7.0, here, there + 7.0, "tick");
    ticks += text(here + 5.0, there - 7.0, "start", "label", fmt::format("flap {:.0f}°", flap.setting_deg));
  }
  return ticks;
}

}  // namespace

std::string energy_strip(const AttemptDebrief& one, const Debrief& debrief, DrawingSize size) {
  const auto flown = flown_path(one, debrief);
  const auto planned = planned_path(one);
  if (flown.size() < 10) return {};
  double top_ft = 400.0, longest_ft = 1000.0;
  for (const auto* path : {&flown, &planned})
    for (const PathPlace& place : *path) {
      top_ft = std::max(top_ft, place.height_ft);
      longest_ft = std::max(longest_ft, place.to_go_ft);
    }
  top_ft *= 1.06;
  const double left = 46.0, right = size.width - 14.0, top = 40.0, bottom = size.height - 26.0;
  const Mapping x{longest_ft, (left - right) / longest_ft, left};
  const Mapping y{0.0, (top - bottom) / top_ft, bottom};
  std::string inside = one.band ? ribbon(*one.band, flown, x, y, top_ft) : "";
  inside += strip_grid(top_ft, y, left, right);
  inside += strip_moments(one.attempt, flown, x, top, bottom, size.width - 4.0);
  const double step_ft = longest_ft > 9000.0 && size.width < 500.0 ? 4000.0 : 2000.0;
  for (double to_go = 0.0; to_go < longest_ft; to_go += step_ft)
    inside += text(x(to_go), bottom + 17.0, "middle", "label", to_go == 0.0 ? "0" : whole(to_go));
  inside += polyline(planned, x, y, &PathPlace::to_go_ft, &PathPlace::height_ft, "planned");
  inside += polyline(flown, x, y, &PathPlace::to_go_ft, &PathPlace::height_ft, "flown");
  inside += ghosts(flown, x, y, &PathPlace::to_go_ft, &PathPlace::height_ft, "end", -6.0, 16.0);
  inside += flap_ticks(one, flown, x, y);
  if (one.band && missed(one, debrief.box)) inside += last_chance_ticks(*one.band, flown, x, y, size.width);
  return drawing(
      size,
      fmt::format("Height against distance to go, attempt {}: {} ft at abeam, {} ft at the base turn{}.",
                  one.attempt.index, one.attempt.abeam ? feet(one.attempt.abeam->height_ft) : "unknown",
                  one.attempt.base_turn ? feet(one.attempt.base_turn->height_ft) : "unknown",
                  planned.empty() ? "" : "; the plan dashed"),
      inside);
}

std::string ground_sketch(const AttemptDebrief& one, const Debrief& debrief, DrawingSize size) {
  const auto flown = flown_path(one, debrief);
  const auto planned = planned_path(one);
  if (flown.size() < 10) return {};
  GroundExtent extent;
  extent.hold(flown);
  extent.hold(planned);
  const auto& [low_ft, high_ft, out_ft] = extent;
  const double margin = 22.0, bottom = size.height - 34.0;
  const double per_ft =
      std::min((size.width - 2.0 * margin - 50.0) / (high_ft - low_ft), (bottom - 30.0) / out_ft);
  const double left = 0.5 * (size.width - per_ft * (high_ft - low_ft)) + 14.0;
  const Mapping x{low_ft, per_ft, left};
  const Mapping y{0.0, -per_ft, bottom};
  std::string inside = reach_lines(one.in_reach_from, x, y, size.width, 0.0);
  inside += runway_on_ground(debrief.frame, debrief.box, extent, x, bottom, size, 20.0);
  inside += polyline(planned, x, y, &PathPlace::along_ft, &PathPlace::out_ft, "planned");
  inside += polyline(flown, x, y, &PathPlace::along_ft, &PathPlace::out_ft, "flown");
  inside += ghosts(flown, x, y, &PathPlace::along_ft, &PathPlace::out_ft, "start", 7.0, 13.0);
  for (const auto& [name, point] : named_moments(one.attempt)) {
    if (!point) continue;
    const auto place = place_at(flown, point->time_unix_s - one.attempt.zero_unix_s());
    if (!place) continue;
    const double here = x(place->along_ft), there = y(place->out_ft);
    const bool downwind = place->out_ft > 0.6 * out_ft;
    inside += circle(here, there, 2.5, "place");
    if (downwind) {
      inside += text(here, there - 9.0, "middle", "name", name);
    } else if (place->out_ft < 300.0) {
      inside += text(here, there - 12.0, "middle", "name", name);
    } else {
      inside += text(here - 8.0, there - 6.0, "end", "name", name);
    }
  }
  return drawing(size,
                 fmt::format("From above, attempt {}, {}-hand traffic{}.", one.attempt.index,
                             one.attempt.traffic == Traffic::left ? "left" : "right",
                             planned.empty() ? "" : "; the plan dashed"),
                 inside);
}

}  // namespace glidewright::report

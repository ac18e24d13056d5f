#include "formats/report/flown_path.hpp"

#include <algorithm>
#include <cmath>

namespace glidewright::report {
namespace {

constexpr double k_before_abeam_s = 6.0;
constexpr double k_unknown_height_sd_ft = 500.0;

double end_of(const AttemptDebrief& one) {
  if (one.touchdown) return one.touchdown->time_unix_s;
  if (one.attempt.go_around) return one.attempt.go_around->time_unix_s;
  return one.attempt.end_time_unix_s;
}

void count_distance_to_go(std::vector<PathPlace>& path) {
  for (std::size_t i = path.size(); i-- > 1;) {
    const PathPlace &a = path[i - 1], &b = path[i];
    path[i - 1].to_go_ft = b.to_go_ft + std::hypot(b.along_ft - a.along_ft, b.out_ft - a.out_ft);
  }
}

}  // namespace

std::vector<PathPlace> flown_path(const AttemptDebrief& one, const Debrief& debrief) {
  std::vector<PathPlace> path;
  const double zero = one.attempt.zero_unix_s(), end = end_of(one);
  const double out = one.attempt.traffic == Traffic::left ? -1.0 : 1.0;
  if (debrief.track.states.empty() || !(end > zero) || end - zero > 1000.0) return path;
  const auto add = [&](double time_unix_s) {
    const TrackState state = debrief.track.at(time_unix_s);
    if (state.height_sd_ft > k_unknown_height_sd_ft) return;
    path.push_back(
        {time_unix_s - zero, state.along_ft, out * state.cross_ft, std::max(0.0, state.height_ft), 0.0});
  };
  for (double t = zero - k_before_abeam_s; t < end; t += 1.0) add(t);
  add(end);
  count_distance_to_go(path);
  return path;
}

std::vector<PathPlace> path_of(const Approach& approach, Traffic traffic) {
  std::vector<PathPlace> path;
  const double out = traffic == Traffic::left ? -1.0 : 1.0;
  double last_s = -1e9;
  for (const Moment& moment : approach.trace) {
    if (moment.time_s - last_s < 0.95) continue;
    last_s = moment.time_s;
    path.push_back(
        {moment.time_s, moment.along_ft, out * moment.cross_ft, std::max(0.0, moment.height_ft), 0.0});
  }
  if (const auto& end = approach.touchdown)
    path.push_back({end->time_s, end->along_ft, out * end->cross_ft, 0.0, 0.0});
  count_distance_to_go(path);
  return path;
}

std::vector<PathPlace> planned_path(const AttemptDebrief& one) {
  return one.planned ? path_of(*one.planned, one.attempt.traffic) : std::vector<PathPlace>{};
}

std::optional<PathPlace> place_at(const std::vector<PathPlace>& path, double time_s) {
  const auto after = std::lower_bound(path.begin(), path.end(), time_s,
                                      [](const PathPlace& place, double t) { return place.time_s < t; });
  if (after == path.end()) return std::nullopt;
  if (after == path.begin()) return time_s < after->time_s - 1.0 ? std::nullopt : std::optional(*after);
  const PathPlace &a = *std::prev(after), &b = *after;
  const double share = (time_s - a.time_s) / (b.time_s - a.time_s);
  const auto mix = [&](double PathPlace::*value) { return a.*value + share * (b.*value - a.*value); };
  return PathPlace{time_s, mix(&PathPlace::along_ft), mix(&PathPlace::out_ft), mix(&PathPlace::height_ft),
                   mix(&PathPlace::to_go_ft)};
}

}  // namespace glidewright::report

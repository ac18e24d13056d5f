#include "engine/debrief/replay.hpp"

#include <algorithm>
#include <cmath>

#include "engine/debrief/airspeed.hpp"
#include "engine/debrief/flown_band.hpp"

namespace glidewright {
namespace {

constexpr double k_before_abeam_s = 6.0;
/// The longest stretch that is still one attempt.
constexpr double k_longest_s = 600.0;
/// More than that says that the log has no heights there.
constexpr double k_unknown_height_sd_ft = 500.0;

/// Where the approach itself ends: what follows is a roll or a climb.
std::optional<double> approach_end_unix_s(const AttemptDebrief& one) {
  if (one.touchdown) return one.touchdown->time_unix_s;
  if (one.attempt.go_around) return one.attempt.go_around->time_unix_s;
  return std::nullopt;
}

/// Ground covered between neighbours, counted back from the end, which lies at `end_s`.
void count_way_to_go(std::vector<ReplayMoment>& path, double end_s) {
  double covered_ft = 0.0, covered_at_end_ft = 0.0;
  for (std::size_t i = 0; i < path.size(); ++i) {
    if (i > 0) {
      const double step_ft =
          std::hypot(path[i].along_ft - path[i - 1].along_ft, path[i].cross_ft - path[i - 1].cross_ft);
      const double step_s = path[i].time_s - path[i - 1].time_s;
      covered_at_end_ft += step_ft * std::clamp((end_s - path[i - 1].time_s) / step_s, 0.0, 1.0);
      covered_ft += step_ft;
    }
    path[i].to_go_ft = -covered_ft;
  }
  for (ReplayMoment& moment : path) moment.to_go_ft += covered_at_end_ft;
}

ReplayMoment moment_at(double time_unix_s, const Debrief& debrief, const WindProfile& wind, bool flying) {
  const TrackState state = debrief.track.at(time_unix_s);
  ReplayMoment moment;
  moment.along_ft = state.along_ft;
  moment.cross_ft = state.cross_ft;
  moment.height_ft = std::max(0.0, state.height_ft);
  moment.groundspeed_kt = state.groundspeed_kt();
  moment.course_true_deg = state.course_true_deg(debrief.frame.runway().true_bearing);
  moment.place_sd_ft = state.place_sd_ft;
  moment.height_sd_ft = state.height_sd_ft;
  if (flying) {
    moment.bank_deg = moment_of_track(state, debrief, wind).bank_deg;
    moment.ahead = look_ahead(state);
  }
  return moment;
}

/// The band was asked at whole seconds after abeam, as the replay is.
void add_reach(std::vector<ReplayMoment>& flown, const BandAlong& band) {
  constexpr double same_s = 0.01;
  auto place = band.places.begin();
  for (ReplayMoment& moment : flown) {
    while (place != band.places.end() && place->time_s < moment.time_s - same_s) ++place;
    if (place != band.places.end() && place->time_s < moment.time_s + same_s) moment.in_reach = place->sure;
  }
}

std::vector<ReplayMoment> planned_path(const AttemptDebrief& one) {
  std::vector<ReplayMoment> path;
  if (!one.planned) return path;
  const auto add = [&](double time_s, double along_ft, double cross_ft, double height_ft) {
    ReplayMoment moment;
    moment.time_s = time_s;
    moment.along_ft = along_ft;
    moment.cross_ft = cross_ft;
    moment.height_ft = std::max(0.0, height_ft);
    path.push_back(moment);
  };
  constexpr double every_s = 1.0, tick_s = 0.05;
  for (const Moment& moment : one.planned->trace)
    if (path.empty() || moment.time_s >= path.back().time_s + every_s - tick_s)
      add(moment.time_s, moment.along_ft, moment.cross_ft, moment.height_ft);
  if (const auto& end = one.planned->touchdown) add(end->time_s, end->along_ft, end->cross_ft, 0.0);
  if (!path.empty()) count_way_to_go(path, path.back().time_s);
  return path;
}

}  // namespace

LookAhead look_ahead(const TrackState& now, double seconds) {
  const double speed_fps = std::hypot(now.along_fps, now.cross_fps);
  const double course_rad = std::atan2(now.cross_fps, now.along_fps);
  const double half_turn_rad = 0.5 * turn_rate_rad_s(now) * seconds;
  // The chord of the arc: sin(x) / x of its length, in the direction half way through the turn.
  const double chord_share = std::abs(half_turn_rad) < 1e-6 ? 1.0 : std::sin(half_turn_rad) / half_turn_rad;
  LookAhead ahead;
  ahead.covered_ft = speed_fps * seconds;
  const double chord_ft = ahead.covered_ft * chord_share;
  ahead.along_ft = now.along_ft + chord_ft * std::cos(course_rad + half_turn_rad);
  ahead.cross_ft = now.cross_ft + chord_ft * std::sin(course_rad + half_turn_rad);
  ahead.height_ft = std::max(0.0, now.height_ft + now.climb_fps * seconds);
  return ahead;
}

Replay replay_of(const AttemptDebrief& one, const Debrief& debrief) {
  Replay replay;
  const Attempt& attempt = one.attempt;
  replay.zero_unix_s = attempt.zero_unix_s();
  const double last_s = std::min(attempt.end_time_unix_s - replay.zero_unix_s, k_longest_s);
  const auto end_unix_s = approach_end_unix_s(one);
  const double end_s = end_unix_s ? *end_unix_s - replay.zero_unix_s : last_s;
  const double down_s = one.touchdown ? end_s : last_s + 1.0;
  if (debrief.track.states.empty()) return replay;
  const WindProfile wind = wind_profile(debrief.wind);
  for (double t = attempt.abeam ? -k_before_abeam_s : 0.0; t <= last_s; t += 1.0) {
    ReplayMoment moment = moment_at(replay.zero_unix_s + t, debrief, wind, t < down_s);
    if (moment.height_sd_ft > k_unknown_height_sd_ft) continue;
    moment.time_s = t;
    replay.flown.push_back(moment);
  }
  count_way_to_go(replay.flown, end_s);
  if (one.band) add_reach(replay.flown, *one.band);
  replay.planned = planned_path(one);
  return replay;
}

}  // namespace glidewright

#include "engine/track/smooth.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>

#include "engine/track/ground_height.hpp"
#include "engine/track/motion_filter.hpp"

namespace glidewright {
namespace {

// A light airplane in the pattern: 30 degrees of bank are 19 ft/s2, entered in two to three seconds.
constexpr MotionModel k_across_ground{.acceleration_sd_fps2 = 10.0, .correlation_time_s = 6.0};
constexpr MotionModel k_up_and_down{.acceleration_sd_fps2 = 3.0, .correlation_time_s = 4.0};
// A receiver's own speed, from carrier phase: a tenth of a knot, and as much again for lag.
constexpr double k_recorded_speed_sd_fps = 0.3;
constexpr double k_recorded_course_sd_rad = 0.15 * k_radians_per_degree;

// Third differences hold a little of the flight itself; only more than this times the stated noise is the
// device's.
constexpr double k_noisier = 1.5;
constexpr double k_moving_fps = 20.0 * k_fps_per_knot;

double wander_growth(double wander_ft, double correlation_time_s) {
  return 2.0 * wander_ft * wander_ft / correlation_time_s;
}

/// Size of the last digit in which a column was written, by its values: 1, 0.1 or nothing to speak of.
template <class Column>
double last_digit(const std::vector<Fix>& fixes, Column column) {
  bool whole = true, tenths = true;
  for (const Fix& fix : fixes) {
    const std::optional<double>& value = fix.*column;
    if (!value || !std::isfinite(*value)) continue;
    whole = whole && std::abs(*value - std::round(*value)) < 1e-6;
    tenths = tenths && std::abs(*value * 10.0 - std::round(*value * 10.0)) < 1e-5;
    if (!tenths) return 0.0;
  }
  return whole ? 1.0 : 0.1;
}

/// What rounding to a step adds to a standard deviation: step / sqrt(12).
double rounding_sd(double step) {
  return step / std::sqrt(12.0);
}

struct RecordedSpeedNoise {
  double speed_sd_fps = 0.0;
  double course_sd_rad = 0.0;
};

RecordedSpeedNoise recorded_speed_noise(const TrackLog& log) {
  return {std::hypot(k_recorded_speed_sd_fps,
                     rounding_sd(last_digit(log.fixes, &Fix::groundspeed_kt)) * k_fps_per_knot),
          std::hypot(k_recorded_course_sd_rad,
                     rounding_sd(last_digit(log.fixes, &Fix::course_true_deg)) * k_radians_per_degree)};
}

bool has_place(const Fix& fix) {
  return std::isfinite(fix.time_unix_s) && std::isfinite(fix.place.latitude_deg) &&
         std::isfinite(fix.place.longitude_deg);
}

bool has_altitude(const Fix& fix) {
  return fix.altitude_ft && std::isfinite(*fix.altitude_ft);
}

/// Measurements of the fixes that have them, and which fix each came from.
template <std::size_t Axes>
struct Gathered {
  std::vector<MotionMeasurement<Axes>> measurements;
  std::vector<std::size_t> fix;
};

Gathered<2> gather_places(const TrackLog& log, const RunwayFrame& frame, const DeviceNoise& noise) {
  const RecordedSpeedNoise recorded = recorded_speed_noise(log);
  Gathered<2> out;
  out.measurements.reserve(log.fixes.size());
  out.fix.reserve(log.fixes.size());
  for (std::size_t i = 0; i < log.fixes.size(); ++i) {
    const Fix& fix = log.fixes[i];
    if (!has_place(fix)) continue;
    const RunwayPoint place = frame.to_runway(fix.place);
    MotionMeasurement<2> m{.time_s = fix.time_unix_s,
                           .place = {place.along_ft, place.cross_ft},
                           .speed = {},
                           .place_variance = noise.place_white_ft * noise.place_white_ft};
    if (fix.groundspeed_kt && fix.course_true_deg && std::isfinite(*fix.groundspeed_kt) &&
        std::isfinite(*fix.course_true_deg)) {
      const double speed_fps = *fix.groundspeed_kt * k_fps_per_knot;
      const double angle = (*fix.course_true_deg - frame.runway().true_bearing.value) * k_radians_per_degree;
      m.speed = {speed_fps * std::cos(angle), speed_fps * std::sin(angle)};
      const double sd = std::hypot(recorded.speed_sd_fps, recorded.course_sd_rad * speed_fps);
      m.speed_variance = sd * sd;
    }
    out.measurements.push_back(m);
    out.fix.push_back(i);
  }
  return out;
}

Gathered<1> gather_heights(const TrackLog& log, double zero_altitude_ft, const DeviceNoise& noise) {
  Gathered<1> out;
  out.measurements.reserve(log.fixes.size());
  out.fix.reserve(log.fixes.size());
  for (std::size_t i = 0; i < log.fixes.size(); ++i) {
    const Fix& fix = log.fixes[i];
    if (!has_place(fix) || !has_altitude(fix)) continue;
    out.measurements.push_back({.time_s = fix.time_unix_s,
                                .place = {*fix.altitude_ft - zero_altitude_ft},
                                .speed = {},
                                .place_variance = noise.height_white_ft * noise.height_white_ft});
    out.fix.push_back(i);
  }
  return out;
}

/// White noise as the log shows it: third differences of a smooth path are almost nothing, of white noise
/// they have the variance 20 sd^2. The median over what moves; 0 where fixes are too far apart to tell.
template <std::size_t Axes>
double seen_white_sd(const std::vector<MotionMeasurement<Axes>>& m, double least_speed_fps) {
  std::vector<double> differences;
  for (std::size_t i = 3; i < m.size(); ++i) {
    const double step_s = m[i].time_s - m[i - 1].time_s;
    const bool even = std::abs(m[i - 1].time_s - m[i - 2].time_s - step_s) < 0.1 * step_s &&
                      std::abs(m[i - 2].time_s - m[i - 3].time_s - step_s) < 0.1 * step_s;
    if (!even || step_s > 2.5) continue;
    double moved2 = 0.0;
    for (std::size_t k = 0; k < Axes; ++k) moved2 += std::pow(m[i].place[k] - m[i - 3].place[k], 2);
    if (moved2 < std::pow(3.0 * step_s * least_speed_fps, 2)) continue;
    for (std::size_t k = 0; k < Axes; ++k) {
      differences.push_back(
          std::abs(m[i].place[k] - 3.0 * m[i - 1].place[k] + 3.0 * m[i - 2].place[k] - m[i - 3].place[k]));
    }
  }
  if (differences.size() < 30) return 0.0;
  const auto middle = differences.begin() + static_cast<std::ptrdiff_t>(differences.size() / 2);
  std::nth_element(differences.begin(), middle, differences.end());
  return *middle / 0.6745 / std::sqrt(20.0);
}

/// A device noisier than it was said to be is believed less.
template <std::size_t Axes>
void believe_seen_noise(Gathered<Axes>& gathered, double least_speed_fps, double stated_sd) {
  const double seen = seen_white_sd(gathered.measurements, least_speed_fps);
  if (seen < k_noisier * stated_sd) return;
  for (auto& m : gathered.measurements) m.place_variance = seen * seen;
}

void write_places(std::vector<TrackState>& states, const Gathered<2>& gathered, const DeviceNoise& noise) {
  MotionModel model = k_across_ground;
  model.wander_ft2_per_s = wander_growth(noise.place_wander_ft, k_place_wander_time_s);
  const auto estimates = smooth_motion(gathered.measurements, model);
  for (std::size_t k = 0; k < estimates.size(); ++k) {
    TrackState& s = states[gathered.fix[k]];
    const auto& e = estimates[k];
    s.along_ft = e.place[0];
    s.cross_ft = e.place[1];
    s.along_fps = e.speed[0];
    s.cross_fps = e.speed[1];
    s.along_fps2 = e.acceleration[0];
    s.cross_fps2 = e.acceleration[1];
    s.place_sd_ft = std::sqrt(e.place_variance + noise.place_wander_ft * noise.place_wander_ft);
    s.speed_sd_fps = std::sqrt(e.speed_variance);
  }
}

void write_heights(std::vector<TrackState>& states, const Gathered<1>& gathered, const DeviceNoise& noise) {
  MotionModel model = k_up_and_down;
  model.wander_ft2_per_s = wander_growth(noise.height_wander_ft, k_height_wander_time_s);
  const auto estimates = smooth_motion(gathered.measurements, model);
  for (std::size_t k = 0; k < estimates.size(); ++k) {
    TrackState& s = states[gathered.fix[k]];
    const auto& e = estimates[k];
    s.height_ft = e.place[0];
    s.climb_fps = e.speed[0];
    s.climb_fps2 = e.acceleration[0];
    s.height_sd_ft = std::sqrt(e.place_variance);
    s.climb_sd_fps = std::sqrt(e.speed_variance);
  }
}

TrackState between(const TrackState& a, const TrackState& b, double time_unix_s);

void copy_place(TrackState& to, const TrackState& from) {
  to.along_ft = from.along_ft;
  to.cross_ft = from.cross_ft;
  to.along_fps = from.along_fps;
  to.cross_fps = from.cross_fps;
  to.along_fps2 = from.along_fps2;
  to.cross_fps2 = from.cross_fps2;
  to.place_sd_ft = from.place_sd_ft;
  to.speed_sd_fps = from.speed_sd_fps;
}

void copy_height(TrackState& to, const TrackState& from) {
  to.height_ft = from.height_ft;
  to.climb_fps = from.climb_fps;
  to.climb_fps2 = from.climb_fps2;
  to.height_sd_ft = from.height_sd_ft;
  to.climb_sd_fps = from.climb_sd_fps;
}

/// Fixes that lack a measurement are bridged by their neighbours; over a long pause, or at the ends of the
/// log, they stay unknown.
template <std::size_t Axes>
void bridge_missing(std::vector<TrackState>& states, const Gathered<Axes>& gathered,
                    void (*copy)(TrackState&, const TrackState&)) {
  for (std::size_t k = 0; k + 1 < gathered.fix.size(); ++k) {
    const std::size_t from = gathered.fix[k], to = gathered.fix[k + 1];
    const double pause_s = states[to].time_unix_s - states[from].time_unix_s;
    if (!(pause_s > 0.0) || pause_s > k_independent_after_s) continue;
    for (std::size_t i = from + 1; i < to; ++i) {
      copy(states[i], between(states[from], states[to], states[i].time_unix_s));
    }
  }
}

double median_rate_hz(const std::vector<TrackState>& states) {
  std::vector<double> steps;
  for (std::size_t i = 1; i < states.size(); ++i) {
    const double step = states[i].time_unix_s - states[i - 1].time_unix_s;
    if (step > 0.0) steps.push_back(step);
  }
  if (steps.empty()) return 0.0;
  const auto middle = steps.begin() + static_cast<std::ptrdiff_t>(steps.size() / 2);
  std::nth_element(steps.begin(), middle, steps.end());
  return 1.0 / *middle;
}

/// Cubic through place and speed at both ends of a step.
struct Cubic {
  double place = 0.0;
  double speed = 0.0;
};
Cubic cubic_between(double x0, double v0, double x1, double v1, double step_s, double part) {
  const double s = part, s2 = s * s, s3 = s2 * s;
  const double m0 = v0 * step_s, m1 = v1 * step_s;
  return {x0 * (2 * s3 - 3 * s2 + 1) + m0 * (s3 - 2 * s2 + s) + x1 * (3 * s2 - 2 * s3) + m1 * (s3 - s2),
          ((x0 - x1) * (6 * s2 - 6 * s) + m0 * (3 * s2 - 4 * s + 1) + m1 * (3 * s2 - 2 * s)) / step_s};
}

/// What an unseen stretch adds to the place's deviation: accelerations it may have hidden.
/// Bridge of an integrated random walk whose speed gains 2 sd^2 tau per second; short steps hide almost
/// nothing.
double hidden_place_sd(const MotionModel& model, double step_s, double part) {
  const double sd = model.acceleration_sd_fps2, tau = model.correlation_time_s;
  const double shape = part * (1.0 - part);
  const double growth = 2.0 * sd * sd * tau * std::min(1.0, step_s * step_s / (tau * tau));
  return std::sqrt(growth * step_s * step_s * step_s * shape * shape * shape / 3.0);
}

TrackState between(const TrackState& a, const TrackState& b, double time_unix_s) {
  const double step_s = b.time_unix_s - a.time_unix_s;
  const double part = (time_unix_s - a.time_unix_s) / step_s;
  const auto mix = [part](double x, double y) { return x + part * (y - x); };
  TrackState s;
  s.time_unix_s = time_unix_s;
  const auto run = [&](double TrackState::*place, double TrackState::*speed) {
    // Across a long silence the end speeds say nothing about the middle.
    if (step_s > k_independent_after_s) return Cubic{mix(a.*place, b.*place), (b.*place - a.*place) / step_s};
    return cubic_between(a.*place, a.*speed, b.*place, b.*speed, step_s, part);
  };
  const Cubic along = run(&TrackState::along_ft, &TrackState::along_fps);
  const Cubic cross = run(&TrackState::cross_ft, &TrackState::cross_fps);
  const Cubic height = run(&TrackState::height_ft, &TrackState::climb_fps);
  s.along_ft = along.place;
  s.along_fps = along.speed;
  s.cross_ft = cross.place;
  s.cross_fps = cross.speed;
  s.height_ft = height.place;
  s.climb_fps = height.speed;
  s.along_fps2 = mix(a.along_fps2, b.along_fps2);
  s.cross_fps2 = mix(a.cross_fps2, b.cross_fps2);
  s.climb_fps2 = mix(a.climb_fps2, b.climb_fps2);
  const double hidden = hidden_place_sd(k_across_ground, step_s, part);
  const double hidden_height = hidden_place_sd(k_up_and_down, step_s, part);
  s.place_sd_ft = std::hypot(mix(a.place_sd_ft, b.place_sd_ft), hidden);
  s.speed_sd_fps = std::hypot(mix(a.speed_sd_fps, b.speed_sd_fps), 2.0 * hidden / step_s);
  s.height_sd_ft = std::hypot(mix(a.height_sd_ft, b.height_sd_ft), hidden_height);
  s.climb_sd_fps = std::hypot(mix(a.climb_sd_fps, b.climb_sd_fps), 2.0 * hidden_height / step_s);
  return s;
}

}  // namespace

double TrackState::groundspeed_kt() const {
  return std::hypot(along_fps, cross_fps) / k_fps_per_knot;
}

double TrackState::course_true_deg(Degrees runway_bearing) const {
  return wrap_360_deg(runway_bearing.value + std::atan2(cross_fps, along_fps) / k_radians_per_degree);
}

TrackState SmoothTrack::at(double time_unix_s) const {
  if (states.empty()) {
    TrackState unknown;
    unknown.time_unix_s = time_unix_s;
    unknown.place_sd_ft = unknown.height_sd_ft = k_unknown_height_sd_ft;
    return unknown;
  }
  const auto after = std::upper_bound(states.begin(), states.end(), time_unix_s,
                                      [](double t, const TrackState& s) { return t < s.time_unix_s; });
  if (after == states.begin()) return states.front();
  if (after == states.end()) return states.back();
  const TrackState& a = *(after - 1);
  return after->time_unix_s > a.time_unix_s ? between(a, *after, time_unix_s) : a;
}

SmoothTrack smooth(const TrackLog& log, const RunwayFrame& frame, Feet antenna_height,
                   const DeviceNoise& noise) {
  SmoothTrack track;
  track.states.resize(log.fixes.size());
  for (std::size_t i = 0; i < log.fixes.size(); ++i) {
    track.states[i].time_unix_s = log.fixes[i].time_unix_s;
    track.states[i].place_sd_ft = k_unknown_height_sd_ft;
    track.states[i].height_sd_ft = k_unknown_height_sd_ft;
    track.states[i].climb_sd_fps = k_unknown_height_sd_ft;
    track.states[i].speed_sd_fps = k_unknown_height_sd_ft;
  }
  track.rate_hz = median_rate_hz(track.states);
  if (track.states.empty()) return track;
  Gathered<2> places = gather_places(log, frame, noise);
  believe_seen_noise(places, k_moving_fps, noise.place_white_ft);
  write_places(track.states, places, noise);
  Gathered<1> heights = gather_heights(log, frame.point_elevation_ft() + antenna_height.value, noise);
  believe_seen_noise(heights, 0.0, noise.height_white_ft);
  write_heights(track.states, heights, noise);
  bridge_missing(track.states, places, copy_place);
  bridge_missing(track.states, heights, copy_height);
  zero_heights(track, ground_shifts(track.states, frame, noise), noise);
  return track;
}

}  // namespace glidewright

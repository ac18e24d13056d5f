#include "engine/debrief/touchdown_evidence.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

#include "engine/debrief/touchdown_panel.hpp"

namespace glidewright::touchdown {
namespace {

// A consumer satellite receiver: slow wander and white noise. Common practice, no source.
constexpr SlowError k_satellite_height{8.2, 120.0};
constexpr SlowError k_satellite_place{4.9, 60.0};
constexpr double k_height_white_ft = 1.64;
constexpr double k_place_white_ft = 1.0;
/// A recorded ground speed is Doppler-derived and cleaner than differences of places.
constexpr double k_groundspeed_white_kt = 0.10, k_groundspeed_model_kt = 0.15;

constexpr double k_window_s = 60.0;
constexpr double k_search_s = 25.0;           ///< the rough time is this good
constexpr double k_descent_height_ft = 16.0;  ///< passing it, the wheels are seconds away
constexpr double k_top_of_evidence_ft = 75.0;
constexpr double k_longest_float_s = 20.0;  ///< from 16 ft to the wheels
constexpr double k_slowest_evidence_kt = 14.0;
constexpr double k_longest_rollout_s = 35.0;

struct Sample {
  PlaceReading place;
  std::optional<double> height_ft;
  std::optional<double> groundspeed_fps;
  double speed_fps = 0.0;  ///< along the runway, over a few seconds
  double drift_fps = 0.0;
  double calm_height_ft = 0.0;  ///< mean over a few seconds

  /// On the extended runway and along it, not on base.
  bool lined_up() const {
    return std::abs(place.cross_ft) < 300.0 && std::abs(drift_fps) < 0.3 * std::abs(speed_fps) + 3.0;
  }
};

double fastest_lined_up(const std::vector<Sample>& samples) {
  double fastest = 0.0;
  for (const Sample& s : samples)
    if (s.lined_up()) fastest = std::max(fastest, s.speed_fps);
  return fastest;
}

double median(std::vector<double> values) {
  if (values.empty()) return 0.0;
  const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::nth_element(values.begin(), middle, values.end());
  return *middle;
}

std::vector<Sample> samples_near(const TrackLog& log, const RunwayFrame& frame, double rough_time_unix_s) {
  std::vector<Sample> samples;
  for (const Fix& fix : log.fixes) {
    const double time_s = fix.time_unix_s - rough_time_unix_s;
    if (std::abs(time_s) > k_window_s) continue;
    const RunwayPoint point = frame.to_runway(fix.place);
    Sample s{{time_s, point.along_ft, point.cross_ft}, {}, {}, 0.0, 0.0, 0.0};
    if (fix.altitude_ft)
      s.height_ft = *fix.altitude_ft - point.along_ft * frame.runway().slope_percent / 100.0;
    if (fix.groundspeed_kt) s.groundspeed_fps = *fix.groundspeed_kt * k_fps_per_knot;
    samples.push_back(s);
  }
  return samples;
}

/// Speeds over about three seconds, and heights averaged over about four.
void calm(std::vector<Sample>& samples) {
  const std::size_t n = samples.size();
  for (std::size_t i = 0; i < n; ++i) {
    const double t = samples[i].place.time_s;
    std::size_t first = i, last = i;
    while (first > 0 && (first == i || t - samples[first - 1].place.time_s <= 1.6)) --first;
    while (last + 1 < n && (last == i || samples[last + 1].place.time_s - t <= 1.6)) ++last;
    const double span_s = samples[last].place.time_s - samples[first].place.time_s;
    if (span_s > 0.0) {
      samples[i].speed_fps = (samples[last].place.along_ft - samples[first].place.along_ft) / span_s;
      samples[i].drift_fps = (samples[last].place.cross_ft - samples[first].place.cross_ft) / span_s;
    }
    double sum = 0.0, count = 0.0;
    for (std::size_t j = i; j-- > 0 && t - samples[j].place.time_s <= 2.1;)
      if (samples[j].height_ft) sum += *samples[j].height_ft, count += 1.0;
    for (std::size_t j = i; j < n && samples[j].place.time_s - t <= 2.1; ++j)
      if (samples[j].height_ft) sum += *samples[j].height_ft, count += 1.0;
    samples[i].calm_height_ft = count > 0.0 ? sum / count : 0.0;
  }
}

/// What the recorded heights read on the ground, and when the airplane was surely there.
struct Ground {
  double height_ft = 0.0;
  double time_s = 0.0;
  std::optional<double> rolling_from_s;
};

Ground find_ground(const std::vector<Sample>& samples) {
  const double fastest = fastest_lined_up(samples);
  // Rolling: clearly slower than it flew.
  std::vector<double> rolling;
  std::optional<double> first_slow_s;
  for (const Sample& s : samples) {
    const double t = s.place.time_s;
    if (t < -k_search_s || s.speed_fps > 0.6 * fastest || !s.lined_up()) continue;
    if (!first_slow_s) first_slow_s = t;
    if (t - *first_slow_s <= 8.0 && s.height_ft) rolling.push_back(*s.height_ft);
  }
  if (!rolling.empty()) return {median(rolling), *first_slow_s, first_slow_s};
  Ground lowest{1e9, 0.0, first_slow_s};
  for (const Sample& s : samples)
    if (s.height_ft && s.place.time_s >= -k_search_s && s.calm_height_ft < lowest.height_ft)
      lowest = {s.calm_height_ft, s.place.time_s, first_slow_s};
  return lowest;
}

/// Last time before the ground at which the calm height passed this far above it.
std::optional<double> descent_through(const std::vector<Sample>& samples, const Ground& ground,
                                      double above_ft) {
  for (std::size_t i = samples.size(); i-- > 1;) {
    const Sample &lower = samples[i], &upper = samples[i - 1];
    if (lower.place.time_s > ground.time_s) continue;
    const double a = upper.calm_height_ft - ground.height_ft - above_ft;
    const double b = lower.calm_height_ft - ground.height_ft - above_ft;
    if (a < 0.0 || b >= 0.0) continue;
    return upper.place.time_s + (lower.place.time_s - upper.place.time_s) * a / (a - b);
  }
  return std::nullopt;
}

/// Where the rollout stops telling anything: walking pace, off the runway, or power for another take-off.
void end_window(const std::vector<Sample>& samples, double descent_s, LandingWindow& window,
                LandingEvidence& evidence) {
  window.to_s = std::min(evidence.log_end_s, descent_s + k_longest_float_s + k_longest_rollout_s);
  double slowest = 1e9, slowest_s = descent_s;
  for (const Sample& s : samples) {
    const double t = s.place.time_s;
    if (t < descent_s || t > window.to_s) continue;
    if (s.speed_fps < k_slowest_evidence_kt * k_fps_per_knot || !s.lined_up()) {
      window.to_s = t;
      break;
    }
    if (s.speed_fps < slowest) {
      slowest = s.speed_fps;
      slowest_s = t;
    } else if (s.speed_fps > slowest + 4.0 * k_fps_per_knot && t > slowest_s + 2.0) {
      evidence.accelerated_again = true;
      window.to_s = slowest_s - 1.0;
      window.heights_to_s = slowest_s + 2.0;
      return;
    }
  }
  window.heights_to_s = window.to_s;
}

/// Means over about a second, so that a fast log costs no more than a slow one.
struct Bin {
  double time_s = 0.0, along_ft = 0.0, height_ft = 0.0, groundspeed_fps = 0.0;
  double from_s = 0.0, to_s = 0.0;
  int places = 0, heights = 0, groundspeeds = 0;
};

std::vector<Bin> bins(const std::vector<Sample>& samples, double from_s, double to_s, double interval_s) {
  std::vector<Bin> all;
  double next_s = from_s;
  for (const Sample& s : samples) {
    const double t = s.place.time_s;
    if (t < from_s || t > to_s) continue;
    if (all.empty() || t >= next_s) {
      all.push_back({});
      all.back().from_s = t - 0.5 * interval_s;
      next_s = t + 1.0 - 0.5 * std::min(interval_s, 1.0);
    }
    Bin& bin = all.back();
    bin.time_s += t, bin.along_ft += s.place.along_ft, ++bin.places;
    bin.to_s = t + 0.5 * interval_s;
    if (s.height_ft) bin.height_ft += *s.height_ft, ++bin.heights;
    if (s.groundspeed_fps) bin.groundspeed_fps += *s.groundspeed_fps, ++bin.groundspeeds;
  }
  for (Bin& bin : all) {
    bin.time_s /= bin.places, bin.along_ft /= bin.places;
    if (bin.heights > 0) bin.height_ft /= bin.heights;
    if (bin.groundspeeds > 0) bin.groundspeed_fps /= bin.groundspeeds;
  }
  return all;
}

void fill_readings(const std::vector<Sample>& samples, const LandingWindow& window, double ground_ft,
                   LandingEvidence& evidence) {
  const auto all =
      bins(samples, window.from_s, std::max(window.to_s, window.heights_to_s), evidence.interval_s);
  bool every_speed = !all.empty();
  double per_bin = 0.0;
  for (const Bin& bin : all) {
    every_speed = every_speed && bin.groundspeeds == bin.places;
    per_bin += static_cast<double>(bin.places) / static_cast<double>(all.size());
    if (bin.heights > 0 && bin.time_s <= window.heights_to_s)
      evidence.heights.push_back(
          {bin.time_s, bin.height_ft - ground_ft, k_height_white_ft / std::sqrt(bin.heights)});
  }
  evidence.place_white_sd_ft = k_place_white_ft / std::sqrt(std::max(per_bin, 1.0));
  evidence.speed_white_sd_fps =
      std::hypot(k_groundspeed_white_kt / std::sqrt(std::max(per_bin, 1.0)), k_groundspeed_model_kt) *
      k_fps_per_knot;
  if (every_speed && evidence.interval_s < 2.5) {
    evidence.speed_source = SpeedSource::recorded_groundspeed;
    for (const Bin& bin : all)
      if (bin.time_s <= window.to_s) evidence.speeds.push_back({bin.from_s, bin.to_s, bin.groundspeed_fps});
    return;
  }
  for (std::size_t i = 1; i < all.size() && all[i].time_s <= window.to_s; ++i)
    evidence.speeds.push_back(
        {all[i - 1].time_s, all[i].time_s,
         (all[i].along_ft - all[i - 1].along_ft) / (all[i].time_s - all[i - 1].time_s)});
}

double median_interval(const std::vector<Sample>& samples) {
  std::vector<double> intervals;
  for (std::size_t i = 1; i < samples.size(); ++i)
    intervals.push_back(samples[i].place.time_s - samples[i - 1].place.time_s);
  return intervals.empty() ? 1.0 : median(intervals);
}

/// Lowest ground speed at which the wheels could have touched, ft/s.
double slowest_touchdown_fps(const TouchdownPrior& prior) {
  const double airspeed_kt = 0.8 * prior.stall_speed_landing_kcas / std::sqrt(prior.density_ratio);
  return std::max(12.0, airspeed_kt - prior.headwind_kt - 2.0 * prior.headwind_sd_kt) * k_fps_per_knot;
}

}  // namespace

LandingEvidence gather_evidence(const TrackLog& log, const RunwayFrame& frame, const SmoothTrack& track,
                                double rough_time_unix_s, const TouchdownPrior& prior) {
  LandingEvidence evidence;
  evidence.height_wander = k_satellite_height;
  evidence.place_wander = k_satellite_place;
  auto samples = samples_near(log, frame, rough_time_unix_s);
  if (samples.empty()) return evidence;
  calm(samples);
  for (const Sample& s : samples) evidence.places.push_back(s.place);
  evidence.log_end_s = samples.back().place.time_s;
  evidence.interval_s = median_interval(samples);

  const double fastest = fastest_lined_up(samples);
  std::size_t with_height = 0;
  for (const Sample& s : samples) with_height += s.height_ft ? 1 : 0;
  evidence.moved = fastest > 15.0 * k_fps_per_knot;
  evidence.altitude_recorded = 2 * with_height > samples.size() && samples.size() > 3;

  const Ground ground = find_ground(samples);
  const auto descent = evidence.altitude_recorded ? descent_through(samples, ground, k_descent_height_ft)
                                                  : std::optional<double>{};
  evidence.approach_seen = descent.has_value();
  const double descent_s = descent.value_or(std::max(samples.front().place.time_s, -k_search_s));
  evidence.earliest_s = descent ? *descent - 1.5 - 0.5 * evidence.interval_s : descent_s;
  evidence.latest_s = descent ? *descent + k_longest_float_s : k_search_s;

  LandingWindow window;
  window.descent_s = descent_s;
  end_window(samples, descent_s, window, evidence);
  const auto top = descent ? descent_through(samples, ground, k_top_of_evidence_ft) : std::optional<double>{};
  window.from_s = descent ? std::max(top.value_or(descent_s - 8.0), descent_s - 15.0) : descent_s - 8.0;
  fill_readings(samples, window, ground.height_ft, evidence);
  evidence.rolling_from_s = ground.rolling_from_s;
  add_panel(log, frame, rough_time_unix_s, prior, window, evidence);

  for (const Sample& s : samples) {
    if (!evidence.moved || s.place.time_s < descent_s || !s.lined_up()) continue;
    if (s.speed_fps < slowest_touchdown_fps(prior)) {
      evidence.rollout_seen = true;
      evidence.latest_s = std::min(evidence.latest_s, s.place.time_s);
    }
    if (s.speed_fps < 0.6 * fastest) evidence.rollout_seen = true;
  }
  if (evidence.accelerated_again) evidence.latest_s = std::min(evidence.latest_s, window.heights_to_s);
  evidence.log_ends_early =
      !evidence.rollout_seen && !evidence.accelerated_again && evidence.log_end_s < k_window_s - 10.0;
  if (!evidence.rollout_seen) {
    // The ground is known only from other parts of the log: compare with the smoothed heights, whatever their
    // zero.
    evidence.height_offset_sd_ft =
        track.height_zeroed_on_ground ? std::hypot(12.0, track.height_shift_sd_ft) : 45.0;
  }
  evidence.latest_s = std::max(evidence.latest_s, evidence.earliest_s + 1.0);
  for (std::size_t i = 1; i < samples.size(); ++i)
    if (samples[i].place.time_s > evidence.earliest_s && samples[i - 1].place.time_s < evidence.latest_s)
      evidence.largest_gap_s =
          std::max(evidence.largest_gap_s, samples[i].place.time_s - samples[i - 1].place.time_s);
  return evidence;
}

}  // namespace glidewright::touchdown

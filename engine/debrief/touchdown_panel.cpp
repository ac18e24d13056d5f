#include "engine/debrief/touchdown_panel.hpp"

#include <algorithm>
#include <cmath>

#include "engine/debrief/touchdown_posterior.hpp"

namespace glidewright::touchdown {
namespace {

// A barometer: the air under the wing shifts it, and it is written in steps. Common practice, no source.
constexpr SlowError k_barometer{2.0, 60.0};
constexpr double k_barometer_white_ft = 0.85;
constexpr double k_largest_step_ft = 10.0;
/// One device: the static line alone is late.
constexpr double k_static_sd_s = 0.2;
/// Two devices, two clocks: each is set to the second and stamps when it gets round to it; and the static
/// line is late.
constexpr double k_clock_sd_s = 0.35;
constexpr double k_seldom_s = 2.5;  ///< between readings: the flare would fall into the gap
constexpr double k_rolling_s = 8.0;
constexpr double k_headwind_stretch_s = 12.0;
constexpr double k_headwind_sd_kt = 1.3;  ///< position error of the airspeed, gusts, wind's loss with height

struct Reading {
  double time_s = 0.0;
  double value = 0.0;
};

/// One column of the panel between two moments, averaged over about a second.
template <class Column>
std::vector<Reading> readings(const TrackLog& log, double rough_time_unix_s, double from_s, double to_s,
                              Column column) {
  std::vector<Reading> means;
  double first_s = 0.0;
  int count = 0;
  for (const PanelSample& sample : log.panel) {
    const double time_s = sample.time_unix_s - rough_time_unix_s;
    const std::optional<double> value = sample.*column;
    if (!value || time_s < from_s || time_s > to_s) continue;
    if (count == 0 || time_s - first_s >= 0.95) {
      means.push_back({});
      first_s = time_s;
      count = 0;
    }
    Reading& mean = means.back();
    ++count;
    mean.time_s += (time_s - mean.time_s) / count;
    mean.value += (*value - mean.value) / count;
  }
  return means;
}

/// Often enough, all the way.
bool covers(const std::vector<Reading>& readings, double from_s, double to_s) {
  double last_s = from_s;
  for (const Reading& reading : readings) {
    if (reading.time_s - last_s > k_seldom_s) return false;
    last_s = reading.time_s;
  }
  return to_s - last_s <= k_seldom_s;
}

/// Smallest difference between two readings that differ: feet, metres or finer.
double step_of(const std::vector<Reading>& readings) {
  constexpr double same = 1e-3;
  double step = k_largest_step_ft;
  for (std::size_t i = 1; i < readings.size(); ++i) {
    const double difference = std::abs(readings[i].value - readings[i - 1].value);
    if (difference > same) step = std::min(step, difference);
  }
  return step;
}

double middle(std::vector<double> values) {
  const auto half = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::nth_element(values.begin(), half, values.end());
  return *half;
}

/// What a column reads on the ground; the least of all where no roll was seen.
double on_the_ground(const std::vector<Reading>& readings, const LandingEvidence& evidence) {
  std::vector<double> rolling;
  double least = readings.front().value;
  for (const Reading& reading : readings) {
    least = std::min(least, reading.value);
    if (evidence.rolling_from_s && reading.time_s >= *evidence.rolling_from_s &&
        reading.time_s <= *evidence.rolling_from_s + k_rolling_s)
      rolling.push_back(reading.value);
  }
  return rolling.empty() ? least : middle(std::move(rolling));
}

void add_barometer(const TrackLog& log, const RunwayFrame& frame, double rough_time_unix_s,
                   const LandingWindow& window, LandingEvidence& evidence) {
  auto altitude = readings(log, rough_time_unix_s, window.from_s, window.heights_to_s,
                           &PanelSample::pressure_altitude_ft);
  if (altitude.size() < 5 || !covers(altitude, window.from_s, window.heights_to_s)) return;
  const double step_ft = step_of(altitude);
  for (Reading& reading : altitude)
    reading.value -= place_at(evidence, reading.time_s).along_ft * frame.runway().slope_percent / 100.0;
  const double ground_ft = on_the_ground(altitude, evidence);
  evidence.heights.clear();
  const double white_ft = std::hypot(k_barometer_white_ft, step_ft / std::sqrt(12.0));
  for (const Reading& reading : altitude)
    evidence.heights.push_back({reading.time_s, reading.value - ground_ft, white_ft});
  evidence.height_wander = k_barometer;
  evidence.barometer_used = true;
  evidence.altitude_recorded = true;
}

void add_headwind(const TrackLog& log, double rough_time_unix_s, const TouchdownPrior& prior,
                  const LandingWindow& window, LandingEvidence& evidence) {
  const auto airspeed = readings(log, rough_time_unix_s, window.descent_s - k_headwind_stretch_s,
                                 window.descent_s, &PanelSample::indicated_airspeed_kt);
  if (airspeed.size() < 4) return;
  double sum_kt = 0.0;
  for (const Reading& reading : airspeed) {
    const double true_kt = reading.value / std::sqrt(prior.density_ratio);
    sum_kt += true_kt - place_at(evidence, reading.time_s).speed_fps / k_fps_per_knot;
  }
  evidence.seen_headwind = SeenHeadwind{sum_kt / static_cast<double>(airspeed.size()), k_headwind_sd_kt};
}

void add_pitch(const TrackLog& log, double rough_time_unix_s, const LandingWindow& window,
               LandingEvidence& evidence) {
  const auto pitch = readings(log, rough_time_unix_s, window.from_s, window.to_s, &PanelSample::pitch_deg);
  if (pitch.size() < 5 || !covers(pitch, window.from_s, window.to_s)) return;
  for (const Reading& reading : pitch) evidence.pitches.push_back({reading.time_s, reading.value});
  if (evidence.rolling_from_s) evidence.rolling_pitch_deg = on_the_ground(pitch, evidence);
}

}  // namespace

void add_panel(const TrackLog& log, const RunwayFrame& frame, double rough_time_unix_s,
               const TouchdownPrior& prior, const LandingWindow& window, LandingEvidence& evidence) {
  if (log.panel.empty() || evidence.places.size() < 2) return;
  add_barometer(log, frame, rough_time_unix_s, window, evidence);
  add_headwind(log, rough_time_unix_s, prior, window, evidence);
  add_pitch(log, rough_time_unix_s, window, evidence);
  if (evidence.barometer_used || !evidence.pitches.empty())
    evidence.clock_sd_s = log.panel_shares_clock ? k_static_sd_s : k_clock_sd_s;
}

}  // namespace glidewright::touchdown

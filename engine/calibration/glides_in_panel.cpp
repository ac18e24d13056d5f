#include "engine/calibration/glides_in_panel.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "engine/air/atmosphere.hpp"
#include "engine/calibration/glide_fit.hpp"

namespace glidewright {
namespace {

constexpr double k_shortest_s = 6.0, k_longest_s = 20.0;
constexpr double k_longest_gap_s = 2.5;
constexpr double k_level_within_deg = 6.0;
constexpr double k_airspeed_within_kt = 2.0;
constexpr double k_flap_still_s = 4.0, k_flap_within_deg = 0.5;
constexpr double k_idle_rpm = 1200.0;
constexpr double k_least_share_of_profile_drag = 0.7;
constexpr double k_slip_turn_rate_deg_s = 0.5;
constexpr double k_ground_clearance_spans = 1.5;
constexpr double k_ground_searched_s = 90.0;
/// Air that moves up or down for a while, a stretch's own: sd, common practice, no source.
constexpr double k_stretch_air_fpm = 40.0;
constexpr double k_fpm_per_fps = 60.0;

/// A sample with the columns that a glide needs.
struct Sample {
  double time_s, airspeed_kt, altitude_ft, flap_deg, density_ratio;
  double speed_height_ft;          ///< V^2 / 2g
  double feet_per_indicated_foot;  ///< more than 1 in warm air
  double energy_height_ft;
  bool usable;  ///< wings level, idle, flaps still, clear of the ground
  double roll_deg, heading_deg;
  bool has_attitude;
};

struct Recorded {
  bool rpm = false, roll = false, heading = false, flap = false, temperature = false;
};

Recorded recorded_in(const std::vector<PanelSample>& panel) {
  const auto any = [&](auto column) {
    return std::any_of(panel.begin(), panel.end(),
                       [&](const PanelSample& sample) { return (sample.*column).has_value(); });
  };
  return {any(&PanelSample::powerplant_rpm), any(&PanelSample::roll_deg), any(&PanelSample::heading_true_deg),
          any(&PanelSample::flap_deg), any(&PanelSample::outside_air_temperature_c)};
}

/// Lowest altitude from here to a minute and a half later: the runway, on an approach that lands.
double ground_below(const std::vector<PanelSample>& panel, std::size_t from) {
  double lowest = std::numeric_limits<double>::max();
  for (std::size_t i = from; i < panel.size(); ++i) {
    if (panel[i].time_unix_s > panel[from].time_unix_s + k_ground_searched_s) break;
    if (panel[i].pressure_altitude_ft) lowest = std::min(lowest, *panel[i].pressure_altitude_ft);
  }
  return lowest;
}

bool flaps_still(const std::vector<PanelSample>& panel, std::size_t at) {
  for (std::size_t i = at + 1; i-- > 0;) {
    if (panel[i].time_unix_s < panel[at].time_unix_s - k_flap_still_s) return true;
    if (panel[i].flap_deg && panel[at].flap_deg &&
        std::abs(*panel[i].flap_deg - *panel[at].flap_deg) > k_flap_within_deg) {
      return false;
    }
  }
  return true;
}

Sample sample_at(const std::vector<PanelSample>& panel, std::size_t i, const Airplane& airplane,
                 const PanelSetting& setting) {
  const PanelSample& raw = panel[i];
  Sample sample{};
  sample.time_s = raw.time_unix_s;
  if (!raw.indicated_airspeed_kt || !raw.pressure_altitude_ft) return sample;
  sample.airspeed_kt = *raw.indicated_airspeed_kt;
  sample.altitude_ft = *raw.pressure_altitude_ft;
  sample.flap_deg = raw.flap_deg.value_or(setting.flap_deg);
  sample.roll_deg = raw.roll_deg.value_or(0.0);
  sample.heading_deg = raw.heading_true_deg.value_or(0.0);
  sample.has_attitude = raw.roll_deg && raw.heading_true_deg;
  const Feet pressure = pressure_altitude(Feet{sample.altitude_ft}, Hectopascals{setting.altimeter_hpa});
  const Celsius outside{raw.outside_air_temperature_c.value_or(setting.temperature_c)};
  sample.density_ratio = density_ratio(pressure, outside);
  const double true_fps = k_fps_per_knot * sample.airspeed_kt / std::sqrt(sample.density_ratio);
  sample.speed_height_ft = 0.5 * true_fps * true_fps / k_gravity_fps2;
  sample.feet_per_indicated_foot = (outside.value + 273.15) / (standard_temperature(pressure).value + 273.15);
  const bool clear =
      sample.altitude_ft - ground_below(panel, i) > k_ground_clearance_spans * airplane.wing_span_ft;
  const bool idle = !raw.powerplant_rpm || *raw.powerplant_rpm <= k_idle_rpm;
  sample.usable = clear && idle && std::abs(sample.roll_deg) <= k_level_within_deg && flaps_still(panel, i);
  return sample;
}

/// Height is summed from step to step: a thermometer that jumps by a degree then bends the path a little,
/// where it would move the whole height above sea level by a third of a percent.
void add_energy_heights(std::vector<Sample>& samples) {
  double height_ft = 0.0;
  const Sample* before = nullptr;
  for (auto& sample : samples) {
    if (sample.airspeed_kt <= 0.0) continue;
    if (before != nullptr) {
      height_ft += 0.5 * (before->feet_per_indicated_foot + sample.feet_per_indicated_foot) *
                   (sample.altitude_ft - before->altitude_ft);
    }
    sample.energy_height_ft = height_ft + sample.speed_height_ft;
    before = &sample;
  }
}

/// Slope of energy height over time and its standard error, by least squares.
struct Slope {
  double per_second = 0.0;
  double sd = 0.0;
};

Slope energy_slope(const std::vector<Sample>& samples, std::size_t begin, std::size_t end) {
  const auto n = static_cast<double>(end - begin);
  double mean_t = 0.0, mean_h = 0.0;
  for (std::size_t i = begin; i < end; ++i) {
    mean_t += samples[i].time_s / n;
    mean_h += samples[i].energy_height_ft / n;
  }
  double tt = 0.0, th = 0.0, hh = 0.0;
  for (std::size_t i = begin; i < end; ++i) {
    const double t = samples[i].time_s - mean_t, h = samples[i].energy_height_ft - mean_h;
    tt += t * t;
    th += t * h;
    hh += h * h;
  }
  const double slope = th / tt;
  return {slope, std::sqrt(std::max(0.0, hh - slope * th) / std::max(1.0, n - 2.0) / tt)};
}

bool slipping(const std::vector<Sample>& samples, std::size_t begin, std::size_t end) {
  if (!samples[begin].has_attitude) return false;
  double roll = 0.0, turned = 0.0, speed = 0.0;
  const auto n = static_cast<double>(end - begin);
  for (std::size_t i = begin; i < end; ++i) {
    roll += samples[i].roll_deg / n;
    speed += samples[i].airspeed_kt / std::sqrt(samples[i].density_ratio) / n;
    if (i > begin) turned += wrap_180_deg(samples[i].heading_deg - samples[i - 1].heading_deg);
  }
  const double rate = turned / (samples[end - 1].time_s - samples[begin].time_s);
  const double coordinated = k_gravity_fps2 * std::tan(roll * k_radians_per_degree) /
                             (speed * k_fps_per_knot) / k_radians_per_degree;
  return std::abs(rate - coordinated) > k_slip_turn_rate_deg_s;
}

LoggedGlide glide_of(const std::vector<Sample>& samples, std::size_t begin, std::size_t end,
                     const PanelSetting& setting) {
  const Slope slope = energy_slope(samples, begin, end);
  const auto n = static_cast<double>(end - begin);
  LoggedGlide glide;
  for (std::size_t i = begin; i < end; ++i) {
    glide.calibrated_airspeed_kt += samples[i].airspeed_kt / n;
    glide.density_ratio += (samples[i].density_ratio - 1.0) / n;
  }
  glide.flap_deg = samples[begin].flap_deg;
  glide.weight_lb = setting.weight_lb;
  glide.weight_sd_relative = 0.03;
  glide.sink_fpm = -slope.per_second * k_fpm_per_fps;
  glide.descent_sd_relative =
      std::hypot(slope.sd * k_fpm_per_fps, k_stretch_air_fpm) / std::max(100.0, glide.sink_fpm);
  glide.begin_unix_s = samples[begin].time_s;
  glide.duration_s = samples[end - 1].time_s - samples[begin].time_s;
  return glide;
}

/// One past the last sample of the steady stretch that begins here.
std::size_t steady_until(const std::vector<Sample>& samples, std::size_t begin) {
  double slowest = samples[begin].airspeed_kt, fastest = slowest;
  std::size_t end = begin;
  for (; end < samples.size() && samples[end].usable; ++end) {
    const bool gap = end > begin && samples[end].time_s - samples[end - 1].time_s > k_longest_gap_s;
    slowest = std::min(slowest, samples[end].airspeed_kt);
    fastest = std::max(fastest, samples[end].airspeed_kt);
    const bool same_flap = std::abs(samples[end].flap_deg - samples[begin].flap_deg) <= k_flap_within_deg;
    const bool too_long = samples[end].time_s - samples[begin].time_s > k_longest_s;
    if (gap || !same_flap || too_long || fastest - slowest > 2.0 * k_airspeed_within_kt) break;
  }
  return end;
}

bool is_glide(const LoggedGlide& glide, const Airplane& airplane, const Recorded& recorded) {
  if (!why_not_used(airplane, glide).empty()) return false;
  if (glide.sink_fpm < 100.0) return false;
  const double share = logged_drag_over_weight(glide, glide.calibrated_airspeed_kt, 0.0) /
                       modelled_drag_over_weight(airplane.polar, glide, glide.calibrated_airspeed_kt);
  return recorded.rpm || share >= k_least_share_of_profile_drag;
}

void note_what_is_missing(const Recorded& recorded, PanelGlides& found) {
  if (!recorded.rpm)
    found.notes.push_back("power was not recorded: idle where the airplane sank as one that glides");
  if (!recorded.roll || !recorded.heading)
    found.notes.push_back("roll or heading was not recorded: turns and slips may be among the glides");
  if (!recorded.flap) found.notes.push_back("flaps were not recorded: one setting taken for all");
  if (!recorded.temperature) found.notes.push_back("outside temperature was not recorded: one taken for all");
}

}  // namespace

PanelGlides glides_in_panel(const std::vector<PanelSample>& panel, const Airplane& airplane,
                            const PanelSetting& setting) {
  PanelGlides found;
  const Recorded recorded = recorded_in(panel);
  std::vector<Sample> samples;
  for (std::size_t i = 0; i < panel.size(); ++i) samples.push_back(sample_at(panel, i, airplane, setting));
  add_energy_heights(samples);
  const bool complete =
      std::any_of(samples.begin(), samples.end(), [](const Sample& s) { return s.airspeed_kt > 0.0; });
  if (!complete) {
    found.none_because = "airspeed and altitude were not recorded together; a glide needs both";
    return found;
  }
  note_what_is_missing(recorded, found);
  for (std::size_t begin = 0; begin < samples.size();) {
    if (!samples[begin].usable) {
      ++begin;
      continue;
    }
    const std::size_t end = steady_until(samples, begin);
    const bool long_enough =
        samples[end - 1].time_s - samples[begin].time_s >= k_shortest_s && end - begin >= 5;
    if (!long_enough || slipping(samples, begin, end)) {
      ++begin;
      continue;
    }
    const LoggedGlide glide = glide_of(samples, begin, end, setting);
    if (is_glide(glide, airplane, recorded)) found.glides.push_back(glide);
    begin = end;
  }
  if (found.glides.empty()) {
    found.none_because =
        "no steady straight glide of 6 s at idle, clear of the ground; expected airspeed within 2 kt, wings "
        "level, flaps still";
  }
  return found;
}

}  // namespace glidewright

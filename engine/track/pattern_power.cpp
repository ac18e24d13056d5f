#include "engine/track/pattern_power.hpp"

#include <Eigen/Cholesky>
#include <Eigen/Core>
#include <algorithm>
#include <cmath>

#include "engine/track/lever.hpp"

namespace glidewright {
namespace {

constexpr double k_idle_rpm = 1100.0;
constexpr double k_drifting_rpm_per_s = 50.0;
// Light single-engine airplanes at idle lose 1 ft of energy height over 6 to 10 ft of air, flaps and slip
// less; a normal approach with some power 13 to 20. FAA Airplane Flying Handbook gives no figure; common
// practice.
constexpr double k_steepest_powered_ratio = 10.8;
constexpr double k_flattest_idle_ratio = 12.2;
constexpr double k_stretch_s = 20.0;              // shorter ones are ruled by gusts
constexpr double k_flattest_idle_stretch = 16.0;  // flatter than this over a whole stretch: power was on
/// The energy's corner lies this long after the lever starts back: the lever's travel, and then the thrust
/// fades. Common practice, no source.
constexpr double k_corner_after_lever_s = k_lever_closes_s + 1.5;

/// rpm over time, for samples within the view. Empty where the panel does not cover it.
struct Rpm {
  double time_unix_s = 0.0;
  double rpm = 0.0;
};
std::vector<Rpm> rpm_between(const std::vector<PanelSample>& panel, double from_s, double to_s) {
  std::vector<Rpm> out;
  for (const PanelSample& s : panel) {
    if (s.time_unix_s >= from_s && s.time_unix_s <= to_s && s.powerplant_rpm) {
      out.push_back({s.time_unix_s, *s.powerplant_rpm});
    }
  }
  return out;
}

PatternPower power_from_rpm(const std::vector<Rpm>& samples, double abeam_s,
                            std::optional<double> base_turn_s, double end_s) {
  PatternPower out;
  out.idle_sd_s = 0.6;
  // Last rise above idle before the end; what comes after must all be idle.
  std::size_t idle_from = samples.size();
  while (idle_from > 0 &&
         (samples[idle_from - 1].time_unix_s > end_s || samples[idle_from - 1].rpm < k_idle_rpm)) {
    --idle_from;
  }
  const bool from_the_start = idle_from == 0;
  const double latest_s = base_turn_s.value_or(abeam_s) + 10.0;
  if (idle_from >= samples.size() || samples[idle_from].time_unix_s > std::max(latest_s, abeam_s + 25.0)) {
    out.kind = AttemptKind::power_assisted;
    return out;
  }
  out.kind = AttemptKind::power_off;
  if (from_the_start) return out;
  // The lever starts back where rpm begins to fall, faster than it drifts.
  const auto falls = [&samples](std::size_t i) {
    const double step_s = samples[i].time_unix_s - samples[i - 1].time_unix_s;
    return samples[i - 1].rpm - samples[i].rpm > k_drifting_rpm_per_s * step_s;
  };
  std::size_t begin = idle_from;
  while (begin > 1 && falls(begin - 1)) --begin;
  out.idle_s = samples[begin - 1].time_unix_s;
  return out;
}

/// Energy height before the corner and after it: sum of squares for a corner at `corner_s`.
struct BrokenLine {
  double cost = 1e300;
  double corner_s = 0.0;
  double before_fps = 0.0;
  double after_fps = 0.0;  ///< at glide speed
};

/// Energy held, or lost steadily, up to the corner; lost to drag after it. `spent`: see energy_spent.
BrokenLine broken_line(const PatternView& view, const std::vector<double>& spent, std::size_t from,
                       std::size_t to, std::size_t corner) {
  Eigen::Matrix3d normal = Eigen::Matrix3d::Zero();
  Eigen::Vector3d right = Eigen::Vector3d::Zero();
  double squares = 0.0;
  const double datum = view.moments[from].energy_height_ft, corner_s = view.moments[corner].time_unix_s;
  for (std::size_t i = from; i <= to; ++i) {
    const double t = view.moments[i].time_unix_s - corner_s;
    const Eigen::Vector3d row(1.0, std::min(t, 0.0), std::max(spent[i] - spent[corner], 0.0));
    const double value = view.moments[i].energy_height_ft - datum;
    normal += row * row.transpose();
    right += row * value;
    squares += value * value;
  }
  normal(1, 1) += 1.0;
  normal(2, 2) += 1.0;
  const Eigen::Vector3d line = normal.ldlt().solve(right);
  return {squares - line.dot(right), corner_s, line(1), line(2)};
}

/// Energy that drag takes up to each moment, in the seconds that it would take at glide speed: after idle the
/// airplane is still fast, and loses half as much again as later. Drag about its least, which is near the
/// glide speed: half of it grows with the square of the speed, half falls with it.
std::vector<double> energy_spent(const PatternView& view, std::size_t from, std::size_t to) {
  constexpr std::size_t moments_at_glide_speed = 9;
  double glide_fps = 0.0;
  for (std::size_t i = to + 1 - moments_at_glide_speed; i <= to; ++i)
    glide_fps += view.moments[i].airspeed_fps / static_cast<double>(moments_at_glide_speed);
  std::vector<double> spent(view.moments.size(), 0.0);
  for (std::size_t i = from + 1; i <= to; ++i) {
    const double mean_fps = 0.5 * (view.moments[i].airspeed_fps + view.moments[i - 1].airspeed_fps);
    const double faster = std::clamp(mean_fps / std::max(glide_fps, 30.0), 0.5, 2.0);
    const double drag = 0.5 * (faster * faster + 1.0 / (faster * faster));
    spent[i] = spent[i - 1] + drag * faster * view.step_s;
  }
  return spent;
}

std::optional<BrokenLine> energy_break(const PatternView& view, double abeam_s,
                                       std::optional<double> base_turn_s) {
  const double last_s = std::max(base_turn_s.value_or(abeam_s + 20.0) + 6.0, abeam_s + 16.0);
  const std::size_t from = view.index_at(abeam_s - 22.0), to = view.index_at(last_s);
  if (to < from + 12) return {};
  const std::vector<double> spent = energy_spent(view, from, to);
  BrokenLine best;
  for (std::size_t i = from + 6; i + 6 <= to; ++i) {
    const BrokenLine line = broken_line(view, spent, from, to, i);
    if (line.cost < best.cost) best = line;
  }
  return best;
}

double glide_ratio_between(const PatternView& view, std::size_t from, std::size_t to) {
  double air_ft = 0.0;
  for (std::size_t i = from; i < to; ++i) air_ft += view.moments[i].airspeed_fps * view.step_s;
  const double lost_ft = view.moments[from].energy_height_ft - view.moments[to].energy_height_ft;
  return lost_ft > air_ft / 100.0 ? air_ft / lost_ft : 100.0;
}

double flattest_stretch(const PatternView& view, std::size_t from, std::size_t to) {
  const auto steps = static_cast<std::size_t>(k_stretch_s / view.step_s);
  double flattest = 0.0;
  for (std::size_t i = from; i + steps <= to; ++i) {
    flattest = std::max(flattest, glide_ratio_between(view, i, i + steps));
  }
  return flattest;
}

AttemptKind kind_from_energy(double ratio, double flattest) {
  if (ratio < k_steepest_powered_ratio && flattest < k_flattest_idle_stretch) return AttemptKind::power_off;
  if (ratio > k_flattest_idle_ratio) return AttemptKind::power_assisted;
  return AttemptKind::unknown;
}

}  // namespace

PatternPower find_power(const PatternView& view, const std::vector<PanelSample>& panel, double abeam_s,
                        std::optional<double> base_turn_s, double end_s) {
  PatternPower out;
  if (view.moments.size() < 4) return out;
  const double first_s = view.moments.front().time_unix_s;
  const auto rpm = rpm_between(panel, first_s, end_s);
  const bool covered =
      rpm.size() > 10 && rpm.front().time_unix_s < abeam_s + 5.0 && rpm.back().time_unix_s > end_s - 5.0;
  if (covered) out = power_from_rpm(rpm, abeam_s, base_turn_s, end_s);

  double gliding_from_s = abeam_s;
  if (const auto corner = energy_break(view, abeam_s, base_turn_s); corner && !covered) {
    gliding_from_s = std::max(corner->corner_s, first_s);
    if (corner->after_fps < corner->before_fps - 6.0) {
      out.idle_s = corner->corner_s - k_corner_after_lever_s;
    }
  }
  const std::size_t from = view.index_at(gliding_from_s + 2.0), to = view.index_at(end_s);
  if (to < from + static_cast<std::size_t>(25.0 / view.step_s)) return out;
  out.glide_ratio = glide_ratio_between(view, from, to);
  if (covered) return out;
  out.kind = kind_from_energy(out.glide_ratio, flattest_stretch(view, from, to));
  if (out.kind == AttemptKind::power_assisted) out.idle_s.reset();
  return out;
}

}  // namespace glidewright

#include "engine/accelerometer/clock.hpp"

#include <Eigen/Cholesky>
#include <Eigen/Core>
#include <algorithm>
#include <array>
#include <cmath>

#include "engine/units/units.hpp"
#include "engine/units/words.hpp"

namespace glidewright {
namespace {

constexpr double k_gravity_mps2 = k_gravity_fps2 * k_metres_per_foot;
constexpr double k_rolling_below_ft = 12.0, k_in_the_air_ft = 25.0;
constexpr double k_rolling_above_fps = 10.0 * k_fps_per_knot;

// Rough: over both logs in steps of two seconds.
constexpr double k_rough_step_s = 2.0;
constexpr double k_shortest_overlap_s = 150.0;
/// Neighbouring steps of one turn say the same thing.
constexpr double k_rough_steps_per_fact = 3.0;
/// Log likelihood over nothing shared at all, and over the next best place.
constexpr double k_clear = 8.0, k_clear_anywhere = 12.0, k_clearer_than_next = 6.0;
constexpr double k_same_place_s = 12.0;
/// A phone's clock that tells moments: seconds, with a long tail.
constexpr double k_usual_clock_error_s = 2.0;

// Fine.
constexpr double k_window_s = 900.0;
constexpr double k_fine_reach_s = 4.0;
constexpr double k_fine_step_s = 0.05;
constexpr double k_widest_sd_s = 1.0;
constexpr std::size_t k_least_moments = 40;
constexpr double k_half_mean_s = 1.5;

/// A clock that was told is contradicted by a rough one so far away, or a fine one so many spreads.
constexpr double k_rough_disagrees_s = 8.0, k_fine_disagrees_sd = 5.0;

double horizontal_mps2(const TrackState& s) {
  return k_metres_per_foot * std::hypot(s.along_fps2, s.cross_fps2);
}

/// What the phone must weigh, over its mass: gravity and the turn. Vertical acceleration is the smoother's
/// weakest number and left out.
double expected_load_mps2(const TrackState& s) {
  return std::hypot(k_gravity_mps2, horizontal_mps2(s));
}

bool rolling(const TrackState& s) {
  return s.height_ft < k_rolling_below_ft && std::hypot(s.along_fps, s.cross_fps) > k_rolling_above_fps;
}

/// Three axes, log of the vibration, share of it that is there.
using Felt = std::array<double, 5>;

double load_mps2(const Felt& felt) {
  return std::hypot(felt[0], felt[1], felt[2]);
}

/// Sums of the blocks, so that the mean of any stretch costs two look-ups.
class Sums {
 public:
  explicit Sums(const AccelerometerLog& felt) : felt_(felt), sums_(1) {
    sums_.reserve(felt.blocks.size() + 1);
    for (const FeltBlock& block : felt.blocks) {
      Felt sum = sums_.back();
      if (block.readings > 0) {
        for (std::size_t i = 0; i < 3; ++i) sum[i] += static_cast<double>(block.mean_mps2[i]);
        sum[3] += std::log(static_cast<double>(block.power[0] + block.power[1] + block.power[2]) + 1e-6);
        sum[4] += 1.0;
      }
      sums_.push_back(sum);
    }
  }
  /// Nothing where most is missing.
  std::optional<Felt> mean(double from_s, double to_s) const {
    const Felt from = upto(from_s), to = upto(to_s);
    Felt mean;
    for (std::size_t i = 0; i < mean.size(); ++i)
      mean[i] = (to[i] - from[i]) / std::max(to[4] - from[4], 1e-9);
    if (to[4] - from[4] < 0.6 * (to_s - from_s) / k_felt_block_s) return std::nullopt;
    return mean;
  }

 private:
  Felt upto(double time_s) const {
    const double at =
        std::clamp((time_s - felt_.start_s) / k_felt_block_s, 0.0, static_cast<double>(felt_.blocks.size()));
    const auto whole = static_cast<std::size_t>(at);
    Felt sum = sums_[whole];
    if (whole + 1 < sums_.size())
      for (std::size_t i = 0; i < sum.size(); ++i)
        sum[i] += (at - static_cast<double>(whole)) * (sums_[whole + 1][i] - sums_[whole][i]);
    return sum;
  }

  const AccelerometerLog& felt_;
  std::vector<Felt> sums_;
};

/// One step of the rough comparison.
struct Step {
  double load = 0.0, shaking = 0.0;
  bool there = false;
};

std::vector<Step> steps_of_the_phone(const AccelerometerLog& felt) {
  const Sums sums(felt);
  std::vector<Step> steps(static_cast<std::size_t>((felt.end_s() - felt.start_s) / k_rough_step_s));
  for (std::size_t i = 0; i < steps.size(); ++i) {
    const double from_s = felt.start_s + k_rough_step_s * static_cast<double>(i);
    if (const auto mean = sums.mean(from_s, from_s + k_rough_step_s))
      steps[i] = {load_mps2(*mean), (*mean)[3], true};
  }
  return steps;
}

std::vector<Step> steps_of_the_track(const SmoothTrack& track) {
  const double first_s = track.states.front().time_unix_s;
  std::vector<Step> steps(
      static_cast<std::size_t>((track.states.back().time_unix_s - first_s) / k_rough_step_s));
  std::size_t next = 0;
  for (std::size_t i = 0; i < steps.size(); ++i) {
    const double middle_s = first_s + k_rough_step_s * (static_cast<double>(i) + 0.5);
    while (next + 1 < track.states.size() && track.states[next].time_unix_s < middle_s) ++next;
    if (track.states[next].time_unix_s - middle_s > 2.0 * k_rough_step_s) continue;
    const TrackState state = track.at(middle_s);
    steps[i] = {expected_load_mps2(state), rolling(state) ? 1.0 : 0.0, true};
  }
  return steps;
}

/// How alike two series are, from sums; what goes down when the other goes up is nothing.
struct Alike {
  double a = 0.0, b = 0.0, aa = 0.0, bb = 0.0, ab = 0.0;

  void add(double one, double other) {
    a += one, b += other, aa += one * one, bb += other * other, ab += one * other;
  }
  /// Log likelihood beside that of unrelated series.
  double gain(double n) const {
    const double left = aa - a * a / n, right = bb - b * b / n, both = ab - a * b / n;
    if (both <= 0.0 || left <= 1e-9 || right <= 1e-9) return 0.0;
    return -0.5 * n / k_rough_steps_per_fact * std::log(std::max(1.0 - both * both / (left * right), 1e-6));
  }
};

/// The best place with a clock at most so far ahead or behind.
RoughClock rough_clock_within(const std::vector<Step>& phone, const std::vector<Step>& positions,
                              double ahead_at_zero_s, bool tells_moments, double most_s) {
  const double least = k_shortest_overlap_s / k_rough_step_s;
  const auto n_phone = static_cast<std::ptrdiff_t>(phone.size()),
             n_track = static_cast<std::ptrdiff_t>(positions.size());
  struct Place {
    double ahead_s, score;
  };
  std::vector<Place> places;
  // Step i of the phone is step i + lag of the track.
  for (std::ptrdiff_t lag = -n_phone; lag <= n_track; ++lag) {
    const double ahead_s = ahead_at_zero_s - k_rough_step_s * static_cast<double>(lag);
    const auto from = std::max<std::ptrdiff_t>(0, -lag), to = std::min(n_phone, n_track - lag);
    if (std::abs(ahead_s) > most_s || static_cast<double>(to - from) < least) continue;
    Alike load, shaking;
    double n = 0.0;
    for (auto i = from; i < to; ++i) {
      const Step &felt = phone[static_cast<std::size_t>(i)],
                 &flown = positions[static_cast<std::size_t>(i + lag)];
      if (!felt.there || !flown.there) continue;
      n += 1.0;
      load.add(felt.load - k_gravity_mps2, flown.load - k_gravity_mps2);
      shaking.add(felt.shaking, flown.shaking);
    }
    if (n < least) continue;
    const double off = ahead_s / k_usual_clock_error_s;
    const double believed = tells_moments ? -std::log1p(off * off) : 0.0;
    places.push_back({ahead_s, believed + load.gain(n) + shaking.gain(n)});
  }
  if (places.empty())
    return {{}, words("less than %.0f s of it go with the positions", k_shortest_overlap_s)};
  const auto better = [](const Place& a, const Place& b) { return a.score < b.score; };
  const Place best = *std::max_element(places.begin(), places.end(), better);
  if (best.score < (tells_moments ? k_clear : k_clear_anywhere))
    return {{}, "turns and rolls in the positions are not found again in it"};
  for (const Place& other : places)
    if (std::abs(other.ahead_s - best.ahead_s) > k_same_place_s &&
        best.score - other.score < k_clearer_than_next)
      return {{},
              words("it goes with the positions as well with a clock %+.0f s ahead as with one %+.0f s ahead",
                    best.ahead_s, other.ahead_s)};
  return {best.ahead_s, ""};
}

/// What is left of the felt load when the turns' share is taken out.
struct Leftover {
  double squares = 0.0;
  double facts = 0.0;     ///< independent ones
  double of_turns = 0.0;  ///< felt share of the load that the track expects
};

/// Moments of the track in the air, at most two a second, that the phone felt whatever the offset.
std::vector<TrackState> moments_in_the_air(const SmoothTrack& track, const Sums& sums, double rough_ahead_s,
                                           double about_unix_s) {
  std::vector<TrackState> moments;
  for (const TrackState& s : track.states) {
    if (std::abs(s.time_unix_s - about_unix_s) > k_window_s || s.height_ft < k_in_the_air_ft) continue;
    if (!moments.empty() && s.time_unix_s - moments.back().time_unix_s < 0.45) continue;
    const double t = s.time_unix_s + rough_ahead_s, first_s = t - k_fine_reach_s, last_s = t + k_fine_reach_s;
    if (sums.mean(first_s, last_s) && sums.mean(first_s - k_half_mean_s, first_s + k_half_mean_s) &&
        sums.mean(last_s - k_half_mean_s, last_s + k_half_mean_s))
      moments.push_back(s);
  }
  return moments;
}

/// Least squares of the felt load on one, the turns and the climb.
Leftover compare(const std::vector<TrackState>& moments, const Sums& sums, double ahead_s) {
  Eigen::Matrix3d normal = Eigen::Matrix3d::Identity() * 1e-9;
  Eigen::Vector3d right = Eigen::Vector3d::Zero();
  std::vector<std::array<double, 3>> rows;  // turns, climb, felt
  for (const TrackState& s : moments) {
    const double t = s.time_unix_s + ahead_s;
    const auto felt = sums.mean(t - k_half_mean_s, t + k_half_mean_s);
    rows.push_back({expected_load_mps2(s) - k_gravity_mps2, k_metres_per_foot * s.climb_fps2,
                    (felt ? load_mps2(*felt) : 0.0) - k_gravity_mps2});
    const Eigen::Vector3d column(1.0, rows.back()[0], rows.back()[1]);
    normal += column * column.transpose();
    right += rows.back()[2] * column;
  }
  const Eigen::Vector3d fit = normal.ldlt().solve(right);
  Leftover leftover;
  double before = 0.0, alike = 0.0;
  for (const auto& row : rows) {
    const double left = row[2] - fit[0] - fit[1] * row[0] - fit[2] * row[1];
    leftover.squares += left * left;
    alike += left * before;
    before = left;
  }
  const double memory = std::clamp(alike / std::max(leftover.squares, 1e-12), 0.0, 0.95);
  leftover.facts = (static_cast<double>(rows.size()) - 3.0) * (1.0 - memory) / (1.0 + memory);
  leftover.of_turns = fit[1];
  return leftover;
}

}  // namespace

double ClockOffset::mean_s() const {
  double sum = 0.0;
  for (std::size_t i = 0; i < probability.size(); ++i)
    sum += probability[i] * (first_ahead_s + step_s * static_cast<double>(i));
  return sum;
}

double ClockOffset::sd_s() const {
  const double mean = mean_s();
  double sum = 0.0;
  for (std::size_t i = 0; i < probability.size(); ++i) {
    const double off = first_ahead_s + step_s * static_cast<double>(i) - mean;
    sum += probability[i] * off * off;
  }
  return std::sqrt(sum);
}

ClockOffset known_clock(double ahead_s, double sd_s) {
  constexpr int cells = 31;
  ClockOffset clock;
  clock.step_s = 7.0 * sd_s / (cells - 1);
  clock.first_ahead_s = ahead_s - 3.5 * sd_s;
  double sum = 0.0;
  for (int i = 0; i < cells; ++i) {
    const double off = (clock.step_s * i - 3.5 * sd_s) / sd_s;
    sum += std::exp(-0.5 * off * off);
    clock.probability.push_back(std::exp(-0.5 * off * off));
  }
  for (double& p : clock.probability) p /= sum;
  return clock;
}

RoughClock find_rough_clock(const AccelerometerLog& felt, const SmoothTrack& track) {
  if (felt.blocks.empty() || track.states.size() < 2) return {{}, "one of the two logs is empty"};
  const auto phone = steps_of_the_phone(felt), positions = steps_of_the_track(track);
  const double ahead_at_zero_s = felt.start_s - track.states.front().time_unix_s;
  // Near first: it is usually there, and the rest of two long days takes a second.
  constexpr double near_s = 600.0, anywhere_s = 1e12;
  if (!felt.counts_from_own_start) {
    const RoughClock near = rough_clock_within(phone, positions, ahead_at_zero_s, true, near_s);
    if (near.ahead_s) return near;
  }
  // A wrong time zone, a wrong day: then nothing is believed of the clock.
  return rough_clock_within(phone, positions, ahead_at_zero_s, false, anywhere_s);
}

std::optional<ClockOffset> find_fine_clock(const AccelerometerLog& felt, const SmoothTrack& track,
                                           double rough_ahead_s, double about_unix_s) {
  const Sums sums(felt);
  const auto moments = moments_in_the_air(track, sums, rough_ahead_s, about_unix_s);
  if (moments.size() < k_least_moments) return std::nullopt;
  ClockOffset clock;
  clock.step_s = k_fine_step_s;
  clock.first_ahead_s = rough_ahead_s - k_fine_reach_s;
  const auto cells = static_cast<std::size_t>(2.0 * k_fine_reach_s / k_fine_step_s) + 1;
  std::vector<Leftover> all;
  for (std::size_t i = 0; i < cells; ++i)
    all.push_back(compare(moments, sums, clock.first_ahead_s + k_fine_step_s * static_cast<double>(i)));
  const auto best = std::min_element(
      all.begin(), all.end(), [](const Leftover& a, const Leftover& b) { return a.squares < b.squares; });
  // Turns weigh the phone down; where they would lift it there is no fit.
  if (best->facts < 3.0 || best->squares <= 0.0 || best->of_turns <= 0.0) return std::nullopt;
  double sum = 0.0;
  for (const Leftover& one : all) {
    clock.probability.push_back(std::pow(one.squares / best->squares, -0.5 * best->facts));
    sum += clock.probability.back();
  }
  for (double& p : clock.probability) p /= sum;
  // At the edge of what was searched the rough place was wrong.
  constexpr std::size_t edge = 10;
  double outside = 0.0;
  for (std::size_t i = 0; i < edge; ++i) outside += clock.probability[i] + clock.probability[cells - 1 - i];
  if (outside > 0.02 || clock.sd_s() > k_widest_sd_s) return std::nullopt;
  return clock;
}

std::optional<double> clock_shown_otherwise(const AccelerometerLog& felt, const SmoothTrack& track,
                                            const RoughClock& rough, const ClockOffset& told,
                                            double about_unix_s) {
  const double told_s = told.mean_s();
  if (rough.ahead_s && std::abs(*rough.ahead_s - told_s) > k_rough_disagrees_s) return rough.ahead_s;
  const auto fine = find_fine_clock(felt, track, told_s, about_unix_s);
  if (!fine) return std::nullopt;
  const double off_s = fine->mean_s() - told_s;
  if (std::abs(off_s) <= k_fine_disagrees_sd * std::hypot(fine->sd_s(), told.sd_s())) return std::nullopt;
  return fine->mean_s();
}

}  // namespace glidewright

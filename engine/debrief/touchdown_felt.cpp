#include "engine/debrief/touchdown_felt.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace glidewright::touchdown {
namespace {

// What is believed of vibration in a light airplane. No log of a real one was at hand: set wide, and each
// landing's own levels decide.
constexpr double k_air_reference_s = 30.0;
constexpr double k_ground_reference_s = 4.0;
constexpr std::size_t k_least_blocks = 12;
/// Spread of a block's log power about its level; less is never believed.
constexpr double k_least_spread = 0.45;
/// Power grows with ground speed to this exponent: white in the slope of the ground would be 1.
constexpr double k_power_with_speed = 1.2;
/// At the speed of the touchdown the roll must stand out by this many spreads in some band.
constexpr double k_stands_out = 0.8;
/// Bands and neighbouring blocks are not as independent as they are taken to be.
constexpr double k_felt_temper = 0.7;
/// That the phone felt something else entirely.
constexpr double k_misread = 0.02;
/// A contact must explain what was felt better than flying on does, by this log likelihood; and even the slow
/// end of the roll must be above the flight by so many spreads.
constexpr double k_sure_of_contact = 12.0, k_slow_roll_stands_out = 0.3;
/// So much of what it felt must lie where the positions allow a contact.
constexpr double k_inside = 0.3;
/// The two together must be this likely beside a contact felt at any time at all.
constexpr double k_agreement = 0.1;
/// Filters and the first give of tyre and strut: the shaking is seen a little after the contact.
constexpr double k_seen_late_s = 0.0;

using Bands = std::array<double, k_felt_bands>;

struct Level {
  Bands mean{}, sd{};
};

/// One block as log powers; none in a gap.
std::optional<Bands> logs_of(const FeltBlock& block) {
  if (block.readings == 0) return std::nullopt;
  Bands logs;
  for (std::size_t b = 0; b < k_felt_bands; ++b)
    logs[b] = std::log(static_cast<double>(block.power[b]) + 1e-5);
  return logs;
}

double middle_of(std::vector<double>& values) {
  const auto half = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::nth_element(values.begin(), half, values.end());
  return *half;
}

/// Median and spread; none where too little is there.
std::optional<Level> level_of(const std::vector<std::optional<Bands>>& blocks, std::size_t from,
                              std::size_t to) {
  Level level;
  for (std::size_t b = 0; b < k_felt_bands; ++b) {
    std::vector<double> values;
    for (std::size_t i = from; i < std::min(to, blocks.size()); ++i)
      if (blocks[i]) values.push_back((*blocks[i])[b]);
    if (values.size() < k_least_blocks || 2 * values.size() < to - from) return std::nullopt;
    level.mean[b] = middle_of(values);
    for (double& v : values) v = std::abs(v - level.mean[b]);
    level.sd[b] = std::max(k_least_spread, 1.483 * middle_of(values));
  }
  return level;
}

/// Heavy tails: a block far from a level is unlikely, never impossible.
double log_density(const Bands& logs, const Level& level, double shift, double wider) {
  double sum = 0.0;
  for (std::size_t b = 0; b < k_felt_bands; ++b) {
    const double sd = std::hypot(level.sd[b], wider);
    const double z = (logs[b] - level.mean[b] - shift) / sd;
    sum -= std::log(sd) + 2.5 * std::log1p(z * z / 4.0);
  }
  return k_felt_temper * sum;
}

/// As on final, livelier for some seconds, or a gust, a bump, a motor.
constexpr std::size_t k_air_states = 3;
constexpr std::array<double, k_air_states> k_air_louder{0.0, 0.8, 2.0}, k_air_wider{0.2, 0.4, 1.0};
/// The jolt of a contact, wheels still carrying little, rolling, in the air again.
constexpr std::size_t k_ground_states = 4;
enum Ground : std::size_t { jolt, light, roll, bounce };

/// From one tenth of a second to the next.
constexpr double k_ground_next[k_ground_states][k_ground_states] = {{0.55, 0.15, 0.25, 0.05},
                                                                    {0.02, 0.93, 0.04, 0.01},
                                                                    {0.005, 0.005, 0.985, 0.005},
                                                                    {0.10, 0.02, 0.0, 0.88}};
constexpr std::array<double, k_ground_states> k_ground_first{0.75, 0.2, 0.05, 0.0};

class Chain {
 public:
  /// louder: of the ground, by how much more than its reference at each block's speed.
  Chain(const std::vector<std::optional<Bands>>& blocks, const std::vector<double>& louder, const Level& air,
        const Level& ground, double disturbed_share)
      : blocks_(blocks), louder_(louder), air_(air), ground_(ground) {
    for (std::size_t b = 0; b < k_felt_bands; ++b) {
      half_way_.mean[b] = 0.5 * (air.mean[b] + ground.mean[b]);
      half_way_.sd[b] = std::max(air.sd[b], 0.25 * std::abs(ground.mean[b] - air.mean[b]));
    }
    const double ends = 0.12;  // a gust lasts some 0.8 s
    const double begins =
        std::clamp(ends * disturbed_share / std::max(1.0 - disturbed_share, 0.1), 0.003, 0.1);
    air_next_ = {
        {{0.98 - begins, 0.02, begins}, {0.03, 0.97 - begins, begins}, {0.5 * ends, 0.5 * ends, 1.0 - ends}}};
  }

  /// Log likelihood that the first contact comes at the beginning of each block; last, that there was none.
  std::vector<double> first_contact(double bounces) const {
    const std::size_t n = blocks_.size();
    std::vector<double> flown(n + 1), rolled(n + 1, 0.0);
    std::array<double, k_air_states> air{};
    for (std::size_t i = 0; i < n; ++i) {
      std::array<double, k_air_states> next{};
      const double greatest = *std::max_element(air.begin(), air.end());
      for (std::size_t s = 0; s < k_air_states; ++s) {
        double sum = 0.0;
        for (std::size_t before = 0; before < k_air_states; ++before)
          sum += air_next_[before][s] * std::exp(air[before] - greatest);
        next[s] = greatest + std::log(sum) + in_air(i, s);
      }
      air = next;
      flown[i + 1] = std::log(std::exp(air[0] - air[1]) + 1.0 + std::exp(air[2] - air[1])) + air[1];
    }
    std::array<double, k_ground_states> after{};
    for (std::size_t i = n; i-- > 0;) {
      for (std::size_t s = 0; s < k_ground_states; ++s) after[s] += on_ground(i, s);
      rolled[i] = mixed(k_ground_first.data(), after, 1.0);
      std::array<double, k_ground_states> before{};
      for (std::size_t s = 0; s < k_ground_states; ++s) before[s] = mixed(k_ground_next[s], after, bounces);
      after = before;
    }
    std::vector<double> logs(n);
    for (std::size_t i = 0; i < n; ++i) logs[i] = flown[i] + rolled[i];
    logs.push_back(flown[n]);
    return logs;
  }

 private:
  double in_air(std::size_t i, std::size_t state) const {
    return blocks_[i] ? log_density(*blocks_[i], air_, k_air_louder[state], k_air_wider[state]) : 0.0;
  }
  double on_ground(std::size_t i, std::size_t state) const {
    if (!blocks_[i]) return 0.0;
    switch (state) {
      case jolt:
        return log_density(*blocks_[i], ground_, louder_[i] + 0.8, 1.2);
      case light:
        return log_density(*blocks_[i], half_way_, 0.5 * louder_[i], 0.4);
      case roll:
        return log_density(*blocks_[i], ground_, louder_[i], 0.3);
      default:
        return log_density(*blocks_[i], air_, 0.3, 0.3);
    }
  }
  static double mixed(const double* share, const std::array<double, k_ground_states>& logs, double bounces) {
    const double greatest = *std::max_element(logs.begin(), logs.end());
    double sum = 0.0, shares = 0.0;
    for (std::size_t s = 0; s < k_ground_states; ++s) {
      const double part = share[s] * (s == bounce ? bounces : 1.0);
      shares += part;
      sum += part * std::exp(logs[s] - greatest);
    }
    return greatest + std::log(std::max(sum, 1e-300) / std::max(shares, 1e-300));
  }

  const std::vector<std::optional<Bands>>& blocks_;
  const std::vector<double>& louder_;
  const Level &air_, &ground_;
  Level half_way_;
  std::array<std::array<double, k_air_states>, k_air_states> air_next_{};
};

double disturbed_share(const std::vector<std::optional<Bands>>& blocks, std::size_t from, std::size_t to,
                       const Level& air) {
  double disturbed = 0.0, all = 0.0;
  for (std::size_t i = from; i < to; ++i) {
    if (!blocks[i]) continue;
    all += 1.0;
    for (std::size_t b = 0; b < k_felt_bands; ++b)
      if ((*blocks[i])[b] - air.mean[b] > 2.5 * air.sd[b]) {
        disturbed += 1.0;
        break;
      }
  }
  return all > 0.0 ? disturbed / all : 0.0;
}

}  // namespace

FeltAnswer felt_likelihood(const LandingEvidence& evidence, const AccelerometerLog& felt,
                           const ClockOffset& clock, double rough_time_unix_s) {
  const double ahead_s = clock.mean_s(), clock_sd_s = clock.sd_s();
  // Blocks by the log's clock, seconds after the rough time.
  const double zero_s = felt.start_s - ahead_s - rough_time_unix_s;
  const auto block_at = [&](double time_s) {
    return static_cast<std::ptrdiff_t>(std::floor((time_s - zero_s) / k_felt_block_s));
  };
  const double margin_s = 2.0 + 2.0 * clock_sd_s;
  const double certain_s = evidence.accelerated_again ? evidence.latest_s - 1.5 : evidence.latest_s;
  const double end_s =
      evidence.accelerated_again ? evidence.latest_s : evidence.latest_s + k_ground_reference_s;
  const auto first = block_at(evidence.earliest_s - k_air_reference_s), last = block_at(end_s);
  std::vector<std::optional<Bands>> blocks;
  for (auto i = first; i < last; ++i) {
    const bool there = i >= 0 && i < static_cast<std::ptrdiff_t>(felt.blocks.size());
    blocks.push_back(there ? logs_of(felt.blocks[static_cast<std::size_t>(i)]) : std::nullopt);
  }
  const auto index = [&](double time_s) {
    return static_cast<std::size_t>(std::max<std::ptrdiff_t>(0, block_at(time_s) - first));
  };
  const std::size_t possible = index(evidence.earliest_s - margin_s), surely = index(certain_s);
  const auto air = level_of(blocks, 0, possible), ground = level_of(blocks, surely, blocks.size());
  if (!air || !ground) return {{}, "the accelerometer has no readings around this landing"};
  const double disturbed = disturbed_share(blocks, 0, possible, *air);
  // What lies long before cannot be the contact, and would only cost time.
  const std::vector<std::optional<Bands>> near(blocks.begin() + static_cast<std::ptrdiff_t>(possible),
                                               blocks.end());
  const double reference_fps = place_at(evidence, 0.5 * (certain_s + end_s)).speed_fps;
  std::vector<double> louder;
  double speed_fps = 0.0;
  for (std::size_t i = 0; i < near.size(); ++i) {
    const double time_s =
        zero_s + k_felt_block_s * static_cast<double>(first + static_cast<std::ptrdiff_t>(possible + i));
    if (i % 5 == 0) speed_fps = place_at(evidence, time_s).speed_fps;
    louder.push_back(k_power_with_speed *
                     std::log(std::clamp(speed_fps / std::max(reference_fps, 10.0), 0.3, 8.0)));
  }
  double stands_out = 0.0, slow_stands_out = 0.0;
  for (std::size_t b = 0; b < k_felt_bands; ++b)
    stands_out = std::max(stands_out, (ground->mean[b] + louder.front() - air->mean[b]) /
                                          std::hypot(air->sd[b], ground->sd[b]));
  for (std::size_t b = 0; b < k_felt_bands; ++b)
    slow_stands_out =
        std::max(slow_stands_out, (ground->mean[b] - air->mean[b]) / std::hypot(air->sd[b], ground->sd[b]));
  if (stands_out < k_stands_out || slow_stands_out < k_slow_roll_stands_out)
    return {{}, "the roll shook the phone no more than the flight before it"};
  const Chain chain(near, louder, *air, *ground, disturbed);
  auto with = chain.first_contact(1.0), without = chain.first_contact(0.0);
  const double never = with.back();
  with.pop_back();
  without.pop_back();
  const double greatest = *std::max_element(with.begin(), with.end());
  double sum_with = 0.0, sum_without = 0.0;
  for (std::size_t i = 0; i < with.size(); ++i) {
    sum_with += std::exp(with[i] - greatest);
    sum_without += std::exp(without[i] - greatest);
  }

  if (greatest + std::log(sum_with / static_cast<double>(with.size())) < never + k_sure_of_contact)
    return {{}, "the phone felt nothing there that is surely a contact"};

  FeltLikelihood likelihood;
  likelihood.bounce_probability = std::clamp(1.0 - sum_without / sum_with, 0.0, 1.0);
  likelihood.first_s = evidence.earliest_s;
  const auto n = static_cast<std::size_t>((evidence.latest_s - evidence.earliest_s) / likelihood.step_s) + 1;
  // By the phone's clock the contact is at the beginning of a block; the log's clock is off by a little.
  const double first_block_s =
      zero_s + k_felt_block_s * static_cast<double>(first + static_cast<std::ptrdiff_t>(possible));
  double total = 0.0;
  for (std::size_t i = 0; i < n; ++i) {
    const double time_s = likelihood.first_s + likelihood.step_s * static_cast<double>(i);
    double sum = 0.0;
    for (std::size_t k = 0; k < clock.probability.size(); ++k) {
      const double off_s = clock.first_ahead_s + clock.step_s * static_cast<double>(k) - ahead_s;
      const double at = (time_s + off_s + k_seen_late_s - first_block_s) / k_felt_block_s;
      const auto below = static_cast<std::ptrdiff_t>(std::floor(at));
      if (below < 0 || below + 1 >= static_cast<std::ptrdiff_t>(with.size())) continue;
      const auto j = static_cast<std::size_t>(below);
      const double part = at - static_cast<double>(below);
      sum += clock.probability[k] *
             ((1.0 - part) * std::exp(with[j] - greatest) + part * std::exp(with[j + 1] - greatest));
    }
    likelihood.of_first_contact.push_back(sum);
    total += sum;
  }
  // Steps of the grid are half a block.
  if (total * likelihood.step_s < k_inside * sum_with * k_felt_block_s)
    return {{}, "the phone felt its jolt at a time when the positions show no landing"};
  const double floor = k_misread * total / static_cast<double>(n);
  for (double& one : likelihood.of_first_contact) one = (1.0 - k_misread) * one + floor;
  return {std::move(likelihood), ""};
}

std::optional<TimePosterior> with_felt(const LandingEvidence& evidence, const TimePosterior& posterior,
                                       const FeltLikelihood& felt) {
  TimePosterior both = posterior;
  both.first_s = felt.first_s;
  both.step_s = felt.step_s;
  both.probability.assign(felt.of_first_contact.size(), 0.0);
  // The panel's clock concerns what it showed, not what the phone felt.
  const double sd_s = std::max(evidence.clock_sd_s, 0.6 * posterior.step_s);
  double agreeing = 0.0, positions = 0.0, anywhere = 0.0;
  for (std::size_t i = 0; i < both.probability.size(); ++i) {
    double before = 0.0;
    for (std::size_t k = 0; k < posterior.probability.size(); ++k) {
      const double off = (posterior.time_s(k) - both.time_s(i)) / sd_s;
      before += posterior.probability[k] * std::exp(-0.5 * off * off);
    }
    agreeing += both.probability[i] = before * felt.of_first_contact[i];
    positions += before;
    anywhere += felt.of_first_contact[i];
  }
  const auto n = static_cast<double>(both.probability.size());
  if (agreeing / positions < k_agreement * anywhere / n) return std::nullopt;
  for (double& p : both.probability) p /= agreeing;
  return both;
}

}  // namespace glidewright::touchdown

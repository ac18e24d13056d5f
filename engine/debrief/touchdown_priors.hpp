#pragma once
// How pilots flare, hold off, derotate and brake, as prior distributions.
//
// Common practice, no source: set wide on simulated landings of light trainers (touchdown at 0.9-1.5 stall
// speeds, hold-off at 0.5-5 ft), so that a landing outside them has to be an odd one.

#include <array>
#include <cmath>
#include <cstddef>
#include <numbers>

#include "engine/units/units.hpp"

namespace glidewright::touchdown {

struct Normal {
  double mean = 0.0;
  double sd = 1.0;
};
struct LogNormal {
  double median = 1.0;
  double log_sd = 1.0;

  double probability_below(double x) const {
    return x <= 0.0 ? 0.0 : 0.5 * std::erfc(-std::log(x / median) / (log_sd * std::numbers::sqrt2));
  }
};

/// Values of one unknown that are tried, with probabilities that sum to 1.
template <std::size_t N>
struct Choices {
  std::array<double, N> value{};
  std::array<double, N> log_probability{};
};

/// Each value stands for the stretch up to half-way to its neighbours.
template <std::size_t N>
Choices<N> choices(const std::array<double, N>& values, LogNormal belief) {
  Choices<N> c{values, {}};
  for (std::size_t i = 0; i < N; ++i) {
    const double below = i == 0 ? 0.0 : belief.probability_below(0.5 * (values[i - 1] + values[i]));
    const double above = i + 1 == N ? 1.0 : belief.probability_below(0.5 * (values[i] + values[i + 1]));
    c.log_probability[i] = std::log(above - below + 1e-12);
  }
  return c;
}

// Shape of the flare, seconds before the wheels.
inline constexpr std::array<double, 11> k_hold_off_s{0.0, 1.0, 2.0,  3.0,  4.0, 5.0,
                                                     6.5, 8.0, 10.0, 12.5, 15.0};
inline constexpr LogNormal k_hold_off_belief{4.5, 1.0};
inline constexpr std::array<double, 3> k_flare_s{1.5, 3.0, 5.0};  ///< equally likely

// Height.
inline constexpr Normal k_approach_sink_fps{14.0, 5.0};
inline constexpr std::array<double, 9> k_contact_sink_fps{0.1, 0.3, 0.6, 1.0, 1.5, 2.2, 3.2, 4.5, 6.0};
inline constexpr LogNormal k_contact_sink_belief{0.9, 0.8};
/// Held for the whole hold-off, a sink loses height: nobody holds off from much more than this.
inline constexpr double k_hold_off_loss_sd_ft = 6.0;
/// A hold-off ends in a settle of a foot or more within this time.
inline constexpr Normal k_settle_ft{2.0, 2.0};
inline constexpr double k_settle_s = 1.5;
/// Sink that is not as modelled: its sd grows away from the wheels, its memory is short.
inline constexpr double k_sink_noise_fps = 0.8, k_sink_noise_growth_fps2 = 0.12, k_sink_noise_memory_s = 2.0;

// Speed, knots and knots a second.
/// Before the flare: many pilots let the speed decay over the fence.
inline constexpr Normal k_approach_deceleration_kt_s{0.1, 0.6};
inline constexpr Normal k_float_deceleration_kt_s{1.85, 0.35};
/// Less drag once the nose is down, gained over this time.
inline constexpr Normal k_derotation_relief_kt_s{0.5, 0.4};
inline constexpr double k_derotation_s = 2.0;
inline constexpr Normal k_braking_kt_s{3.3, 1.5};
inline constexpr double k_braking_onset_s = 1.0;
inline constexpr std::array<double, 5> k_derotation_delay_s{0.3, 0.8, 1.6, 3.0, 6.0};
inline constexpr LogNormal k_derotation_delay_belief{0.8, 0.75};
/// The last is never, within the log.
inline constexpr std::array<double, 10> k_braking_delay_s{1.0, 2.0,  3.0,  4.0,  5.5,
                                                          7.5, 10.0, 14.0, 19.0, 1e3};
inline constexpr LogNormal k_braking_delay_belief{3.5, 0.6};
inline constexpr double k_never_braked = 0.15;
/// Deceleration that is not as modelled: sd in still air, in ordinary air, in gusts, equally likely.
inline constexpr std::array<double, 3> k_deceleration_noise_kt_s{0.15, 0.3, 0.6};
inline constexpr double k_deceleration_noise_memory_s = 1.5;

// Pitch, degrees.
inline constexpr Normal k_touchdown_pitch_deg{6.0, 4.0};
/// Through flare and hold-off the nose comes up at this rate, and wanders about it.
inline constexpr double k_pitch_rise_deg_s = 0.7, k_pitch_walk_deg_per_root_s = 1.3;
/// Time constant of letting the nose down, equally likely.
inline constexpr std::array<double, 3> k_nose_lowering_s{0.5, 1.0, 2.0};
inline constexpr double k_rolling_pitch_sd_deg = 1.0;
inline constexpr Normal k_unseen_rolling_pitch_deg{2.0, 3.0};  ///< where the log does not show the roll
/// Elevator and bumps after the wheels; rounding and gyro at any time.
inline constexpr double k_pitch_noise_deg = 0.5, k_pitch_noise_memory_s = 1.0, k_pitch_white_deg = 0.3;

/// Airspeed at touchdown over stall speed: held off, or flown on.
inline constexpr std::array<Normal, 2> k_touchdown_over_stall{{{1.13, 0.10}, {1.28, 0.16}}};
inline constexpr std::array<double, 2> k_touchdown_over_stall_weight{0.8, 0.2};
/// Wind at the wing of a landed airplane over wind at 10 m (logarithmic profile over short grass).
inline constexpr double k_wind_at_wheels_over_10m = 0.85;

}  // namespace glidewright::touchdown

#pragma once
// What light fixed-gear singles have in common where the handbook is silent: common practice, no source, so
// the spread is wide. The knee and the turn gain describe the steady glide and turn tables of a public
// flight-dynamics model of such an airplane (tests/data/flights), where the parabola alone is 16 % too good
// at 1.17 stall speeds.

namespace glidewright {

inline constexpr double k_knee_gain = 0.25;
inline constexpr double k_knee_gain_sd = 0.15;
inline constexpr double k_knee_start = 0.45;
inline constexpr double k_turn_drag_gain = 0.2;
inline constexpr double k_turn_drag_gain_sd = 0.15;
/// Glide ratio in a full forward slip over that without.
inline constexpr double k_class_slip_drag_ratio = 0.72;
inline constexpr double k_class_slip_drag_ratio_sd = 0.1;
/// Relative growth of drag at approach speed, a degree of flap.
inline constexpr double k_class_flap_drag_per_degree = 0.007;
/// Relative, of a flap's glide ratio that is a class default.
inline constexpr double k_class_flap_glide_sd = 0.08;
/// Of handbook numbers that come without a spread.
inline constexpr double k_handbook_glide_sd = 0.04;  // relative
inline constexpr double k_handbook_speed_sd_kt = 2.0;
/// What a handbook prints as best glide is a rounded speed to fly; drag is flat there, and where it is least
/// lies within some knots of it.
inline constexpr double k_least_drag_speed_sd_kt = 3.0;
/// Relative, of the drag at best glide: a handbook's glide has the propeller stopped or windmilling with a
/// dead engine; idle is neither, and how much it differs has no published figure.
inline constexpr double k_idle_propeller_sd = 0.03;
/// Relative, of all drag: from day to day no glide is surer (rigging, dirt, the propeller's idle speed).
inline constexpr double k_least_drag_sd = 0.02;

}  // namespace glidewright

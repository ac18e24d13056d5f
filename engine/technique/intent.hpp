#pragma once
// What the pilot means to do and what he remembers, for any lane type.

#include "engine/glide/state.hpp"
#include "engine/technique/technique_numbers.hpp"
#include "engine/units/units.hpp"

namespace glidewright {

/// In the order in which they are flown; numbers and not an enum, so that lanes can hold and compare them.
struct Phase {
  static constexpr double downwind = 0.0, base_turn = 1.0, base = 2.0, final_turn = 3.0, final_leg = 4.0;
};

/// A moment that no flight comes to.
inline constexpr double k_never_s = 1e6;

/// What went otherwise than the technique says, in one flight.
template <class L>
struct DeviationOf {
  L idle_s = 0.0;
  L cue_s = 0.0;
  L speed_kt = 0.0;
  L bank_deg = 0.0;
  L flap_s = 0.0;
  L spacing_ft = 0.0;
  L height_ft = 0.0;
  L headwind_kt = 0.0;     ///< added at 10 m, grows with height as the profile does
  L crosswind_kt = 0.0;    ///< from the right
  L glide_relative = 0.0;  ///< more drag positive
  L eye_relative = 0.0;
  L touchdown_speed_kt = 0.0;
  L shear_exponent = 0.0;    ///< added to the power law's
  L density_relative = 0.0;  ///< denser air positive
  L weight_relative = 0.0;   ///< heavier positive
  L decision_s = 0.0;        ///< later positive
};

/// What a flight may have of it at most: beyond, the model's laws are no longer those of this air.
inline constexpr double k_least_shear_exponent = 0.0, k_greatest_shear_exponent = 0.6;

/// What the eye reckons with, the same for every look of one flight.
template <class L>
struct EyeNumbers {
  L final_kt_squared = 0.0;  ///< calibrated, as planned
  L inverse_final_kt_squared = 0.0;
  L flare_kt_squared = 0.0;  ///< of the speed half way between final and touchdown
  L inverse_flare_kt_squared = 0.0;
  L final_fps = 0.0;
  L inverse_final_fps = 0.0;
  L final_energy_ft = 0.0;  ///< V^2 / 2g
  L flare_energy_ft = 0.0;  ///< given up from final to touchdown speed
  L turn_radius_ft = 0.0;
  L turn_load = 1.0;  ///< 1 / cos(bank): a turn costs that much more height than its length
  L induced_remaining_at_wheels = 1.0;
  L low_wind_along_fps = 0.0;  ///< at 10 ft
};

/// The part of the intent that differs between pilots.
template <class L>
struct IntentLanes {
  L idle_time_s = 0.0;
  L base_turn_time_s = 0.0;
  L square_base_rad = 0.0;  ///< course of the base leg before the eye steers it
  L base_turn_bank_rad = 0.0;
  L final_turn_bank_rad = 0.0;
  L final_turn_bank_limit_rad = 0.0;
  L final_turn_rate_fps2 = 0.0;  ///< g tan(bank)
  L final_turn_roll_in_s = 0.0;
  L downwind_fps = 0.0;  ///< speeds as this pilot holds them, true
  L base_fps = 0.0;
  L final_fps = 0.0;
  L short_final_fps = 0.0;
  L touchdown_fps = 0.0;
  L glide_lead_fps = 0.0;
  L flap_lateness_s = 0.0;
  L slip_lateness_s = 0.0;  ///< from seeing that a slip should go in or out to doing it
  L eye_relative = 0.0;
  EyeNumbers<L> eye;
};

/// How the technique came out in this flight.
template <class L>
struct PilotIntentOf : IntentLanes<L> {
  const TechniqueNumbersOf<L>* technique = nullptr;
};

/// The flap step that comes next.
template <class L>
struct NextFlap {
  L number = 0.0;
  Mask<L> there = false;  ///< none left, or too late for it
  L setting_deg = 0.0;
  L when = 0.0;
  L height_ft = 0.0;
  Mask<L> only_if_high_enough = false;
};

/// What the pilot remembers from one decision to the next.
template <class L>
struct PilotMemoryOf {
  L phase = Phase::downwind;
  Mask<L> idle = false;
  Mask<L> gliding = false;
  Mask<L> flaring = false;
  Mask<L> slipping = false;
  L phase_since_s = 0.0;
  NextFlap<L> flap;
  L flap_moved_s = -1e6;
  L slip_change_since_s = k_never_s;  ///< since when the eye asks for another slip than there is
  L base_course_rad = 0.0;            ///< steered, from base_course_deg on
  CommandsOf<L> commands;
};

}  // namespace glidewright

#include "engine/technique/pilot.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "engine/technique/decisions.hpp"

namespace glidewright {
namespace {

double when_number(FlapStep::When when) {
  switch (when) {
    case FlapStep::When::wings_level_base:
      return FlapStepNumbers::When::wings_level_base;
    case FlapStep::When::final_turn:
      return FlapStepNumbers::When::final_turn;
    case FlapStep::When::wings_level_final:
      return FlapStepNumbers::When::wings_level_final;
    case FlapStep::When::at_height:
      break;
  }
  return FlapStepNumbers::When::at_height;
}

}  // namespace

Flight flight_of(const Airplane& airplane, const Conditions& conditions, const Deviation& deviation) {
  const auto mirrored =
      conditions.traffic == Traffic::right ? WindField::Mirrored::yes : WindField::Mirrored::no;
  WindProfile wind = conditions.wind;
  wind.power_law_exponent = limited(wind.power_law_exponent + deviation.shear_exponent,
                                    k_least_shear_exponent, k_greatest_shear_exponent);
  return {&airplane,
          WindField(wind, Degrees{conditions.runway_true_deg}, mirrored, Knots{deviation.headwind_kt},
                    Knots{deviation.crosswind_kt}),
          conditions.weight_lb * (1.0 + deviation.weight_relative),
          conditions.density_ratio * (1.0 + deviation.density_relative),
          1.0 + deviation.glide_relative,
          1.0,
          Handling{}};
}

FlightState steady_on_downwind(const Flight& flight, double spacing_ft, double height_ft,
                               double calibrated_kt, double time_s) {
  FlightState state;
  state.cross_ft = -spacing_ft;
  state.height_ft = height_ft;
  state.speed_fps = flight.true_fps(calibrated_kt);
  const LocalWind wind = flight.wind.at(state.height_ft);
  const double drift_sine = std::clamp(wind.cross_fps / state.speed_fps, -0.9, 0.9);
  state.heading_rad = std::numbers::pi + std::asin(drift_sine);
  state.along_ft = ground_velocity(flight, state).along_fps * time_s;
  return state;
}

TechniqueSheet::TechniqueSheet(const Technique& technique, const Airplane& airplane) {
  for (const auto& step : technique.flaps) {
    flaps.push_back({step.setting_deg, when_number(step.when), step.height_ft, step.only_if_high_enough});
  }
  numbers.pattern_height_ft = technique.pattern_height_ft;
  numbers.spacing_ft = technique.spacing_ft;
  numbers.pattern_speed_kt = technique.pattern_speed_kt;
  numbers.idle_s_after_abeam = technique.idle_s_after_abeam;
  numbers.base_turn_s_after_abeam = technique.base_turn_s_after_abeam;
  numbers.downwind_speed_kt = technique.downwind_speed_kt;
  numbers.base_speed_kt = technique.base_speed_kt;
  numbers.final_speed_kt = technique.final_speed_kt;
  numbers.short_final_speed_kt = technique.short_final_speed_kt;
  numbers.base_turn_bank_deg = technique.base_turn_bank_deg;
  numbers.base_course_deg = technique.base_course_deg;
  numbers.final_turn_bank_deg = technique.final_turn_bank_deg;
  numbers.final_turn_bank_limit_deg = technique.final_turn_bank_limit_deg;
  numbers.final_turn_cross_shift_ft = technique.final_turn_cross_shift_ft;
  numbers.path_by_eye = technique.path_by_eye;
  numbers.slip_when_high = technique.slip_when_high;
  numbers.slip_at_heights = technique.slip.has_value();
  if (technique.slip) {
    numbers.slip_in_ft = technique.slip->in_height_ft;
    numbers.slip_out_ft = technique.slip->out_height_ft;
  }
  numbers.slip_flap_limit_deg = airplane.handbook.slip_flap_limit_deg;
  numbers.landing_flap_deg = technique.landing_flap_deg;
  numbers.planned_touchdown_ft = technique.planned_touchdown_ft;
  numbers.touchdown_speed_kt = technique.touchdown_speed_kt;
  numbers.flare_lead_s = technique.flare_lead_s;
  numbers.gate_height_ft = technique.gate_height_ft;
  if (!flaps.empty()) numbers.last_flap_deg = flaps.back().setting_deg;
  numbers.flaps = flaps.data();
  numbers.flap_count = static_cast<int>(flaps.size());
}

PilotIntent intent_of(const Flight& flight, const TechniqueSheet& sheet, const Deviation& deviation) {
  return pilot::intent_of(flight, sheet.numbers, deviation, sheet.numbers.base_turn_s_after_abeam);
}

PilotMemory begin(const PilotIntent& intent, const FlightState& start) {
  return pilot::begin(intent, start);
}

void decide(const PilotIntent& intent, const Flight& flight, const FlightState& state, double time_s,
            PilotMemory& memory) {
  pilot::decide(intent, flight, state, over_ground(flight, state), time_s, memory);
}

double next_awaited(const PilotIntent& intent, const Flight& flight, const FlightState& state, double time_s,
                    double latest_s, const PilotMemory& memory) {
  return pilot::next_awaited(intent, state, over_ground(flight, state), time_s, latest_s, memory,
                             [&] { return derivative(flight, state, memory.commands).speed_fps; });
}

bool stable_at_gate(const PilotIntent& intent, const Flight& flight, const FlightState& state, double time_s,
                    const PilotMemory& memory) {
  return pilot::stable_at_gate(intent, flight, state, over_ground(flight, state), time_s, memory);
}

}  // namespace glidewright

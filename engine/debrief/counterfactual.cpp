#include "engine/debrief/counterfactual.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include "engine/batch/batch.hpp"
#include "engine/batch/draws.hpp"

namespace glidewright {
namespace {

constexpr IntegratorSettings k_settings{0.2, Trace::none, Watch::touchdown_only};

constexpr double k_most_drag = 0.5;   // beyond this nothing is believable anyway
constexpr double k_most_step = 0.15;  // the place on final bends with drag: no farther at once

/// Along-place at which a flight passes a height on final.
double along_at_height(const Approach& flown) {
  return flown.gate ? flown.gate->along_ft : flown.touchdown->along_ft;
}

}  // namespace

CounterfactualFlights::CounterfactualFlights(const CausesRequest& request) : request_(request) {
  choose_kinds();
  const Approach as_planned = fly_set(0);
  if (as_planned.touchdown)
    slower_at_the_wheels_kt_ = planned_.touchdown_speed_kt - as_planned.touchdown->calibrated_airspeed_kt;
  bring_to_flown_place();
}

CounterfactualFlights::CounterfactualFlights(const CausesRequest& request, const CounterfactualFlights& near)
    : request_(request),
      drag_relative_(near.drag_relative_),
      along_per_drag_ft_(near.along_per_drag_ft_),
      slower_at_the_wheels_kt_(near.slower_at_the_wheels_kt_),
      final_turn_shift_ft_(near.final_turn_shift_ft_) {
  choose_kinds();
  const Approach here = fly_set(all());
  follow_final_turn(here);
  if (std::abs(along_per_drag_ft_) > 1.0) {
    const double change = (request_.flown.check_along_ft - along_at_height(here)) / along_per_drag_ft_;
    drag_relative_ =
        std::clamp(drag_relative_ + std::clamp(change, -k_most_step, k_most_step), -k_most_drag, k_most_drag);
  }
}

void CounterfactualFlights::choose_kinds() {
  planned_ = without_rules(request_.plan.technique);
  planned_.base_turn_s_after_abeam = request_.planned_cue_s;
  if (request_.pattern_was_planned) kinds_.push_back(CauseKind::pattern);
  if (request_.flown.idle_s) kinds_.push_back(CauseKind::idle);
  kinds_.push_back(CauseKind::base_turn);
  kinds_.push_back(CauseKind::path);
  if (request_.flown.flaps) kinds_.push_back(CauseKind::flaps);
  if (request_.flown.slip_known) kinds_.push_back(CauseKind::slip);
  kinds_.push_back(CauseKind::wind_and_airplane);
  kinds_.push_back(CauseKind::speed);
  if (request_.touchdown) kinds_.push_back(CauseKind::flare);
}

void CounterfactualFlights::follow_final_turn(const Approach& all_as_flown) {
  if (!request_.flown.final_turn_room_ft || !all_as_flown.final_turn) return;
  final_turn_shift_ft_ += std::abs(all_as_flown.final_turn->cross_ft) - *request_.flown.final_turn_room_ft;
  final_turn_shift_ft_ = std::clamp(final_turn_shift_ft_, -1500.0, 1500.0);
}

void CounterfactualFlights::bring_to_flown_place() {
  // Two passes: the place of the final turn hardly depends on drag, the place on final depends on both.
  constexpr double drag_step = 0.05, near_enough = 0.002;
  for (int pass = 0; pass < 2; ++pass) {
    follow_final_turn(fly_set(all()));
    for (int round = 0; round < 3; ++round) {
      const double here = along_at_height(fly_set(all()));
      const double before = drag_relative_;
      drag_relative_ = before + drag_step;
      along_per_drag_ft_ = (along_at_height(fly_set(all())) - here) / drag_step;
      const double change = std::abs(along_per_drag_ft_) > 1.0
                                ? (request_.flown.check_along_ft - here) / along_per_drag_ft_
                                : 0.0;
      drag_relative_ =
          std::clamp(before + std::clamp(change, -k_most_step, k_most_step), -k_most_drag, k_most_drag);
      if (std::abs(change) < near_enough) break;
    }
  }
}

bool CounterfactualFlights::has(Coalition set, CauseKind kind) const {
  for (std::size_t i = 0; i < kinds_.size(); ++i) {
    if (kinds_[i] == kind) return (set >> i) & 1U;
  }
  return false;
}

Technique CounterfactualFlights::technique_of(Coalition as_flown) const {
  const AttemptAsFlown& flown = request_.flown;
  Technique technique = planned_;
  technique.gate_height_ft = flown.check_height_ft;
  if (has(as_flown, CauseKind::pattern)) {
    technique.pattern_height_ft = flown.pattern_height_ft;
    technique.spacing_ft = flown.spacing_ft;
    technique.pattern_speed_kt = flown.pattern_speed_kt;
  }
  if (has(as_flown, CauseKind::path)) {
    technique.base_turn_bank_deg = flown.base_turn_bank_deg;
    technique.final_turn_bank_deg = flown.final_turn_bank_deg;
    technique.final_turn_bank_limit_deg =
        std::max(flown.final_turn_bank_deg, technique.final_turn_bank_limit_deg);
    technique.base_course_deg = flown.base_course_deg;
    technique.final_turn_cross_shift_ft = final_turn_shift_ft_;
  }
  if (has(as_flown, CauseKind::flaps)) technique.flaps = *flown.flaps;
  if (has(as_flown, CauseKind::slip)) technique.slip = flown.slip;
  if (has(as_flown, CauseKind::speed)) {
    technique.base_speed_kt = flown.base_speed_kt.value;
    technique.final_speed_kt = flown.final_speed_kt.value;
    technique.short_final_speed_kt = flown.short_final_speed_kt.value;
  }
  return technique;
}

Conditions CounterfactualFlights::conditions_of(Coalition as_flown) const {
  Conditions conditions = request_.plan.conditions;
  if (has(as_flown, CauseKind::wind_and_airplane)) conditions.wind = wind_profile(request_.wind);
  return conditions;
}

Deviation CounterfactualFlights::deviation_of(Coalition as_flown) const {
  const AttemptAsFlown& flown = request_.flown;
  Deviation deviation;
  if (has(as_flown, CauseKind::idle)) deviation.idle_s = flown.idle_s->value - planned_.idle_s_after_abeam;
  if (has(as_flown, CauseKind::base_turn))
    deviation.cue_s = flown.base_turn_s.value - planned_.base_turn_s_after_abeam;
  if (has(as_flown, CauseKind::wind_and_airplane)) deviation.glide_relative = drag_relative_;
  if (has(as_flown, CauseKind::flare)) {
    deviation.touchdown_speed_kt =
        flown.touchdown_speed_kt.value + slower_at_the_wheels_kt_ - planned_.touchdown_speed_kt;
  }
  return deviation;
}

Approach CounterfactualFlights::fly_set(Coalition as_flown) const {
  return fly(request_.plan.airplane, conditions_of(as_flown), technique_of(as_flown), deviation_of(as_flown),
             k_settings);
}

/// Causes that leave technique and conditions as they are.
Coalition CounterfactualFlights::told_by_deviations() const {
  Coalition told = 0;
  for (std::size_t i = 0; i < kinds_.size(); ++i) {
    const CauseKind kind = kinds_[i];
    if (kind == CauseKind::idle || kind == CauseKind::base_turn || kind == CauseKind::flare)
      told |= Coalition{1} << i;
  }
  return told;
}

std::vector<double> CounterfactualFlights::touchdowns_ft(const std::vector<Coalition>& sets) const {
  // Side by side fly those that share technique and conditions.
  std::map<Coalition, std::vector<std::size_t>> side_by_side;
  const Coalition shared_part = ~told_by_deviations();
  for (std::size_t i = 0; i < sets.size(); ++i) side_by_side[sets[i] & shared_part].push_back(i);
  std::vector<double> touchdowns_ft(sets.size());
  for (const auto& [shared, members] : side_by_side) {
    BatchRequest batch;
    batch.airplane = &request_.plan.airplane;
    batch.technique = technique_of(shared);
    batch.conditions = conditions_of(shared);
    for (const std::size_t i : members) batch.deviations.push_back(deviation_of(sets[i]));
    const auto flown = fly_batch(batch);
    for (std::size_t k = 0; k < members.size(); ++k) touchdowns_ft[members[k]] = flown[k].touchdown_ft;
  }
  return touchdowns_ft;
}

CausesRequest drawn(const CausesRequest& request, std::uint64_t seed, std::uint64_t member) {
  CausesRequest one = request;
  std::uint64_t channel = 100;
  const auto draw = [&](double sd) { return sd * standard_normal(seed, member, channel++); };
  AttemptAsFlown& flown = one.flown;
  if (flown.idle_s) flown.idle_s->value += draw(flown.idle_s->sd);
  flown.base_turn_s.value += draw(flown.base_turn_s.sd);

  // Speeds that are ground speeds less the wind move with the wind's error; a panel's do not.
  const double headwind_error = draw(request.wind.headwind_sd_kt);
  const double crosswind_error = draw(request.wind.crosswind_sd_kt);
  one.wind.headwind_kt += headwind_error;
  one.wind.crosswind_from_right_kt += crosswind_error;
  const Wind wind = wind_with({Knots{one.wind.headwind_kt}, Knots{one.wind.crosswind_from_right_kt}},
                              Degrees{request.plan.conditions.runway_true_deg});
  one.wind.speed_kt = wind.speed.value;
  one.wind.from_true_deg = wind.from_true.value;
  constexpr double reading_sd_kt = 1.5;
  const double with_the_wind = flown.airspeed_recorded ? 0.0 : headwind_error;
  flown.base_speed_kt.value += draw(reading_sd_kt);
  flown.final_speed_kt.value += with_the_wind + draw(reading_sd_kt);
  flown.short_final_speed_kt.value += with_the_wind + draw(reading_sd_kt);
  flown.touchdown_speed_kt.value += draw(flown.touchdown_speed_kt.sd);
  constexpr double course_sd_deg = 2.0, bank_sd_deg = 3.0, room_sd_ft = 60.0;
  flown.base_course_deg += draw(course_sd_deg);
  flown.base_turn_bank_deg = std::max(10.0, flown.base_turn_bank_deg + draw(bank_sd_deg));
  flown.final_turn_bank_deg = std::max(10.0, flown.final_turn_bank_deg + draw(bank_sd_deg));
  if (flown.final_turn_room_ft) *flown.final_turn_room_ft += draw(room_sd_ft);
  constexpr double place_sd_ft = 60.0;
  flown.check_along_ft += draw(place_sd_ft);
  if (flown.slip) {
    constexpr double marked_sd_ft = 15.0;
    flown.slip->in_height_ft += draw(marked_sd_ft);
    flown.slip->out_height_ft += draw(marked_sd_ft);
    one.plan.airplane.polar.slip_parasite *= std::max(0.2, 1.0 + draw(request.plan.airplane.slip_sd));
  }
  return one;
}

}  // namespace glidewright

#include "engine/drill/own_flight.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "engine/debrief/airspeed.hpp"
#include "engine/debrief/flown_band.hpp"
#include "engine/debrief/wind.hpp"
#include "engine/lanes/philox.hpp"

namespace glidewright {
namespace {

constexpr double k_look_ahead_s = 20.0;
constexpr double k_before_the_wheels_s = 24.0;
constexpr double k_begin_of_turn_s = 3.0;
constexpr double k_far_ft = 1e6;

/// How likely it ended short of the box, in it, and beyond it.
std::array<double, 3> chances(const Touchdown& touchdown, Box box, std::optional<bool> in_the_box) {
  // The edges themselves belong to the box.
  constexpr double k_beside_ft = 1e-6;
  const std::array<double, 3> chance = {touchdown.probability_between(-k_far_ft, box.low_ft - k_beside_ft),
                                        touchdown.probability_between(box.low_ft, box.high_ft),
                                        touchdown.probability_between(box.high_ft + k_beside_ft, k_far_ft)};
  if (!in_the_box) return chance;
  if (*in_the_box) return {0.0, 1.0, 0.0};
  const double missed = chance[0] + chance[2];
  if (missed <= 0.0) return chance;
  return {chance[0] / missed, 0.0, chance[2] / missed};
}

Moment moment_at(double time_unix_s, double zero_unix_s, const Debrief& debrief, const WindProfile& wind) {
  Moment moment = moment_of_track(debrief.track.at(time_unix_s), debrief, wind);
  moment.time_s = time_unix_s - zero_unix_s;
  moment.height_ft = std::max(0.0, moment.height_ft);
  moment.calibrated_airspeed_kt = moment.true_airspeed_kt * std::sqrt(debrief.day.density_ratio);
  return moment;
}

DrillLeg leg_at(const Attempt& attempt, double time_unix_s) {
  if (attempt.final_leg && time_unix_s >= attempt.final_leg->time_unix_s) return DrillLeg::final_leg;
  if (attempt.final_turn && time_unix_s >= attempt.final_turn->time_unix_s) return DrillLeg::final_turn;
  return attempt.base && time_unix_s >= attempt.base->time_unix_s ? DrillLeg::base : DrillLeg::base_turn;
}

/// Why it is not asked about, apart from where it ended; empty where it can be.
std::string left_out(const AttemptDebrief& one, const Debrief& debrief) {
  const Attempt& attempt = one.attempt;
  if (attempt.kind == AttemptKind::power_assisted) return "flown with power";
  if (attempt.outcome == Outcome::go_around) return "gone around";
  if (!one.touchdown || attempt.outcome == Outcome::unfinished) return "no touchdown in the log";
  if (!attempt.abeam || !attempt.base_turn || debrief.track.states.empty())
    return "not all of the pattern in the log";
  return {};
}

/// By the band alone: what would still have served from there.
Remedy remedy_by_room(Energy energy, const Room& room, double height_ft) {
  if (energy == Energy::on) return Remedy::nothing;
  if (!room.open()) return Remedy::none;
  if (energy == Energy::low) return height_ft >= room.lowest_ft ? Remedy::shorter_way : Remedy::none;
  if (height_ft <= room.by_path_ft) return Remedy::longer_way;
  if (height_ft <= room.by_flaps_ft) return Remedy::flaps;
  return height_ft <= room.by_slip_ft ? Remedy::slip : Remedy::none;
}

void add_room(const AttemptDebrief& one, OwnMoment& own) {
  if (!one.band) return;
  Situation& situation = own.situation;
  for (const RoomOnTrack& place : one.band->places) {
    if (std::abs(place.time_s - situation.now.time_s) > 1.0) continue;
    own.room_known = true;
    situation.room = place.mean;
    situation.remedy = remedy_by_room(situation.energy, place.mean, situation.now.height_ft);
    return;
  }
}

}  // namespace

OwnMomentAnswer own_moment(const AttemptDebrief& one, const Debrief& debrief, std::optional<bool> in_the_box,
                           std::uint64_t seed, int number) {
  if (auto reason = left_out(one, debrief); !reason.empty()) return {std::nullopt, reason};
  const Attempt& attempt = one.attempt;
  const auto chance = chances(*one.touchdown, debrief.box, in_the_box);
  const auto likeliest = std::max_element(chance.begin(), chance.end());
  if (*likeliest < k_sure_enough_to_ask)
    return {std::nullopt, "not sure enough on which side of the box it ended"};
  const double begin_s = attempt.base_turn->time_unix_s + k_begin_of_turn_s;
  const double down_s = one.touchdown->time_unix_s;
  double end_s = down_s - k_before_the_wheels_s;
  if (attempt.gate) end_s = std::min(end_s, attempt.gate->time_unix_s);
  if (end_s <= begin_s) return {std::nullopt, "too short from the base turn to the gate"};

  constexpr std::uint32_t k_own_block = 1000;
  const auto word = words_of_flight(seed, static_cast<std::uint64_t>(number), k_own_block).word[2];
  const double zero_s = attempt.abeam->time_unix_s;
  // At a whole second after abeam, as the band was asked.
  const double frozen_s =
      zero_s + std::floor(begin_s - zero_s + (end_s - begin_s) * static_cast<double>(uniform_of(word))) + 1.0;

  OwnMoment own;
  const WindProfile wind = wind_profile(debrief.wind);
  Situation& situation = own.situation;
  situation.seed = seed;
  situation.number = number;
  situation.leg = leg_at(attempt, frozen_s);
  for (double t = zero_s; t < down_s; t += 1.0) own.pattern.push_back(moment_at(t, zero_s, debrief, wind));
  situation.now = moment_at(frozen_s, zero_s, debrief, wind);
  for (const Moment& moment : own.pattern)
    (moment.time_s <= situation.now.time_s ? situation.flown : situation.to_come).push_back(moment);
  situation.touchdown_ft = one.touchdown->along_ft;
  Moment wheels = moment_at(down_s, zero_s, debrief, wind);
  wheels.along_ft = one.touchdown->along_ft;
  wheels.cross_ft = one.touchdown->cross_ft;
  wheels.height_ft = 0.0;
  situation.to_come.push_back(wheels);
  situation.energy = static_cast<Energy>(likeliest - chance.begin());
  situation.beyond_box_ft =
      situation.touchdown_ft - std::clamp(situation.touchdown_ft, debrief.box.low_ft, debrief.box.high_ft);
  situation.in_20_s = moment_at(frozen_s + k_look_ahead_s, zero_s, debrief, wind);
  own.touchdown_low95_ft = one.touchdown->low95_ft;
  own.touchdown_high95_ft = one.touchdown->high95_ft;
  own.chance = *likeliest;
  add_room(one, own);
  return {std::move(own), {}};
}

}  // namespace glidewright

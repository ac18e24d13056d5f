#include "engine/drill/situation.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "engine/batch/draws.hpp"
#include "engine/lanes/philox.hpp"
#include "engine/plan/search.hpp"
#include "engine/reach/along.hpp"
#include "engine/reach/plan_band.hpp"

namespace glidewright {
namespace {

constexpr double k_clear_outside_ft = 80.0;
constexpr double k_clear_inside_ft = 40.0;
/// Further off nobody needs to be asked.
constexpr double k_farthest_ft = 1000.0;
constexpr double k_look_ahead_s = 20.0;
constexpr double k_before_the_wheels_s = 24.0;
constexpr double k_begin_of_turn_s = 3.0;
constexpr int k_most_tries = 80;

/// How far an approach of a drill goes from its plan. The air is as it is said to be.
Scatter drill_scatter() {
  Scatter scatter;
  scatter.cue_s = 3.5;
  scatter.speed_kt = 3.0;
  scatter.bank_deg = 4.0;
  scatter.flap_s = 3.0;
  scatter.spacing_ft = 300.0;
  scatter.height_ft = 70.0;
  scatter.wind_kt = scatter.glide_relative = scatter.eye_relative = 0.0;
  scatter.shear_exponent = scatter.temperature_c = scatter.weight_relative = 0.0;
  scatter.turbulence = 0.0;
  return scatter;
}

/// The random words of a situation that are no deviation: far from the channels of draw_deviation.
double uniform(std::uint64_t seed, int number, std::size_t which) {
  constexpr std::uint32_t k_own_block = 1000;
  return static_cast<double>(
      uniform_of(words_of_flight(seed, static_cast<std::uint64_t>(number), k_own_block).word[which]));
}

std::optional<Energy> clear_energy(double touchdown_ft, Box box) {
  if (touchdown_ft < box.low_ft - k_clear_outside_ft) return Energy::low;
  if (touchdown_ft > box.high_ft + k_clear_outside_ft) return Energy::high;
  const bool well_inside =
      touchdown_ft > box.low_ft + k_clear_inside_ft && touchdown_ft < box.high_ft - k_clear_inside_ft;
  return well_inside ? std::optional<Energy>(Energy::on) : std::nullopt;
}

Technique technique_left_alone(const DrillSetting& setting) {
  Technique technique = without_rules(setting.plan.technique);
  technique.base_turn_s_after_abeam = setting.cue_s;
  technique.go_around_when_unstable = false;
  return technique;
}

Approach flown_with(const DrillSetting& setting, const Deviation& deviation,
                    const IntegratorSettings& integrator) {
  return fly(setting.plan.airplane, setting.plan.conditions, technique_left_alone(setting), deviation,
             integrator);
}

/// Enough of it to be asked about: it comes to the wheels on final, not absurdly far off.
bool usable(const Approach& approach, Box box) {
  return approach.end == ApproachEnd::touchdown && approach.touchdown && approach.final_turn &&
         approach.final_leg && approach.touchdown->along_ft > box.low_ft - k_farthest_ft &&
         approach.touchdown->along_ft < box.high_ft + k_farthest_ft;
}

/// The deviation that gives the wanted energy, or the last clear one where none does.
std::optional<Deviation> drawn(const DrillSetting& setting, std::uint64_t seed, int number, Energy wanted) {
  std::optional<Deviation> last;
  for (int k = 0; k < k_most_tries; ++k) {
    const auto flight = static_cast<std::uint64_t>(number) * k_most_tries + static_cast<std::uint64_t>(k);
    const Deviation deviation =
        draw_deviation(drill_scatter(), setting.plan.conditions.wind.gust.value, seed, flight);
    const Approach approach =
        flown_with(setting, deviation, {.step_s = 0.05, .watch = Watch::touchdown_only});
    if (!usable(approach, setting.plan.box)) continue;
    const auto energy = clear_energy(approach.touchdown->along_ft, setting.plan.box);
    if (!energy) continue;
    last = deviation;
    if (*energy == wanted) return deviation;
  }
  return last;
}

/// The moment of a trace at a time, the nearest.
const Moment& at_time(const std::vector<Moment>& trace, double time_s) {
  const auto later =
      std::lower_bound(trace.begin(), trace.end(), time_s,
                       [](const Moment& moment, double wanted_s) { return moment.time_s < wanted_s; });
  return later == trace.end() ? trace.back() : *later;
}

DrillLeg leg_at(const Approach& approach, double time_s) {
  if (approach.final_leg && time_s >= approach.final_leg->time_s) return DrillLeg::final_leg;
  if (approach.final_turn && time_s >= approach.final_turn->time_s) return DrillLeg::final_turn;
  constexpr double k_still_turning_deg = 8.0;
  const bool turning = !approach.mid_base || time_s < approach.mid_base->time_s;
  return turning && std::abs(at_time(approach.trace, time_s).bank_deg) > k_still_turning_deg
             ? DrillLeg::base_turn
             : DrillLeg::base;
}

/// Between the base turn and the gate, long enough before the wheels.
double frozen_at_s(const Approach& approach, double uniform_number) {
  const double begin_s = approach.base_turn.time_s + k_begin_of_turn_s;
  double end_s = approach.touchdown->time_s - k_before_the_wheels_s;
  if (approach.gate) end_s = std::min(end_s, approach.gate->time_s);
  return begin_s + std::max(end_s - begin_s, 0.0) * uniform_number;
}

double distance_ft(const Moment& a, const Moment& b) {
  return std::hypot(a.along_ft - b.along_ft, a.cross_ft - b.cross_ft);
}

/// Length of the way over the ground.
double way_ft(const std::vector<Moment>& moments) {
  double length_ft = 0.0;
  for (std::size_t i = 1; i < moments.size(); ++i) length_ft += distance_ft(moments[i - 1], moments[i]);
  return length_ft;
}

/// Of the plan where it has as far to go to its touchdown.
double planned_height_ft(const Approach& planned, double to_go_ft) {
  double left_ft = 0.0;
  for (std::size_t i = planned.trace.size(); i-- > 1;) {
    const Moment &before = planned.trace[i - 1], &after = planned.trace[i];
    const double piece_ft = distance_ft(before, after);
    if (left_ft + piece_ft >= to_go_ft) {
      const double share = piece_ft > 0.0 ? (to_go_ft - left_ft) / piece_ft : 0.0;
      return after.height_ft + share * (before.height_ft - after.height_ft);
    }
    left_ft += piece_ft;
  }
  return planned.abeam.height_ft;
}

/// The technique with what is still to come of its flaps changed, which leaves the flight until now as it
/// was.
class FromHereOn {
 public:
  FromHereOn(const DrillSetting& setting, const Deviation& deviation, const Approach& flown,
             const Moment& now)
      : setting_(setting), deviation_(deviation), flown_(flown), now_(now) {}

  double with_flaps_now_ft() const {
    Technique technique = until_now();
    for (const FlapStep& step : to_come()) technique.flaps.push_back(as_soon_as_taught(step));
    return touchdown_ft(technique);
  }
  double with_flaps_and_slip_ft() const {
    Technique technique = until_now();
    for (const FlapStep& step : to_come()) technique.flaps.push_back(as_soon_as_taught(step));
    const double from_ft = std::min(now_.height_ft - k_below_ft, flown_.final_leg->height_ft);
    technique.slip = SlipStep{from_ft, k_slip_out_ft};
    return touchdown_ft(technique);
  }
  double with_flaps_held_ft() const { return touchdown_ft(until_now()); }

 private:
  static constexpr double k_below_ft = 5.0;
  static constexpr double k_slip_out_ft = 100.0;

  std::size_t moved() const {
    return static_cast<std::size_t>(
        std::count_if(flown_.flap_moves.begin(), flown_.flap_moves.end(),
                      [&](const LeverMove& move) { return move.time_s <= now_.time_s; }));
  }
  Technique until_now() const {
    Technique technique = technique_left_alone(setting_);
    technique.flaps.resize(std::min(moved(), technique.flaps.size()));
    return technique;
  }
  std::vector<FlapStep> to_come() const {
    const auto& all = setting_.plan.technique.flaps;
    const auto from = static_cast<std::ptrdiff_t>(std::min(moved(), all.size()));
    return {all.begin() + from, all.end()};
  }
  /// At once, but the landing flap not before the final turn.
  FlapStep as_soon_as_taught(FlapStep step) const {
    step.only_if_high_enough = false;
    const bool landing = step.setting_deg >= setting_.plan.technique.landing_flap_deg;
    if (landing && now_.time_s < flown_.final_turn->time_s) {
      step.when = FlapStep::When::final_turn;
    } else {
      step.when = FlapStep::When::at_height;
      step.height_ft = now_.height_ft - k_below_ft;
    }
    return step;
  }
  double touchdown_ft(const Technique& technique) const {
    const Approach approach = fly(setting_.plan.airplane, setting_.plan.conditions, technique, deviation_,
                                  {.step_s = 0.05, .watch = Watch::touchdown_only});
    return approach.touchdown ? approach.touchdown->along_ft : -std::numeric_limits<double>::infinity();
  }

  const DrillSetting& setting_;
  const Deviation& deviation_;
  const Approach& flown_;
  const Moment& now_;
};

/// Flaps and slip are flown, ways are the band's.
void find_remedy(const DrillSetting& setting, const FromHereOn& from_here, Situation& situation) {
  const Box box = setting.plan.box;
  const Room& room = situation.room;
  const double height_ft = situation.now.height_ft;
  situation.touchdown_at_most_ft = situation.touchdown_ft;
  if (situation.energy == Energy::on) return;
  if (situation.energy == Energy::low) {
    situation.touchdown_at_most_ft = from_here.with_flaps_held_ft();
    const bool enough = situation.touchdown_at_most_ft >= box.low_ft;
    situation.remedy = enough                                       ? Remedy::flaps_held
                       : room.open() && height_ft >= room.lowest_ft ? Remedy::shorter_way
                                                                    : Remedy::none;
    return;
  }
  situation.touchdown_at_most_ft = from_here.with_flaps_and_slip_ft();
  const bool way = situation.leg < DrillLeg::final_turn && room.open() && height_ft <= room.by_path_ft;
  situation.remedy =
      way                                            ? Remedy::longer_way
      : from_here.with_flaps_now_ft() <= box.high_ft ? Remedy::flaps
      : situation.touchdown_at_most_ft <= box.high_ft || (room.open() && height_ft <= room.by_slip_ft)
          ? Remedy::slip
          : Remedy::none;
}

}  // namespace

DrillSettingAnswer drill_setting(const PlanRequest& plan, const ShareOut& share_out) {
  const CueFound cue = search_cue(plan);
  if (!cue.found)
    return {std::nullopt, cue.always_short
                              ? "Even with base turned at once the planned approach ends short: fly the "
                                "downwind nearer or higher."
                              : "No cue brings the planned approach to its place: there is nothing to ask."};
  DrillSetting setting{plan, cue.cue_s, fly_nominal(plan, cue.cue_s, Trace::every_decision),
                       Band::over(band_request_of(plan), Surety::mean, share_out)};
  return {std::move(setting), {}};
}

Situation situation_of(const DrillSetting& setting, std::uint64_t seed, int number) {
  constexpr double k_kinds = 3.0;
  const auto wanted = static_cast<Energy>(static_cast<int>(k_kinds * uniform(seed, number, 0)));
  const Deviation deviation = drawn(setting, seed, number, wanted).value_or(Deviation{});
  const Approach approach = flown_with(setting, deviation, {.trace = Trace::every_decision});
  const double time_s = frozen_at_s(approach, uniform(seed, number, 1));

  Situation situation;
  situation.seed = seed;
  situation.number = number;
  situation.now = at_time(approach.trace, time_s);
  for (const Moment& moment : approach.trace)
    (moment.time_s <= situation.now.time_s ? situation.flown : situation.to_come).push_back(moment);
  situation.leg = leg_at(approach, situation.now.time_s);
  situation.touchdown_ft = approach.touchdown->along_ft;
  situation.to_come.push_back(*approach.touchdown);
  const Box box = setting.plan.box;
  situation.energy = situation.touchdown_ft < box.low_ft    ? Energy::low
                     : situation.touchdown_ft > box.high_ft ? Energy::high
                                                            : Energy::on;
  situation.beyond_box_ft =
      situation.touchdown_ft - std::clamp(situation.touchdown_ft, box.low_ft, box.high_ft);
  situation.in_20_s = at_time(approach.trace, situation.now.time_s + k_look_ahead_s);
  // To the place where the plan lands, not to where this one does.
  const double to_go_ft =
      way_ft(situation.to_come) - (situation.touchdown_ft - setting.planned.touchdown->along_ft);
  situation.planned_height_ft = planned_height_ft(setting.planned, to_go_ft);
  situation.room = setting.band.room(place_of(situation.now, setting.plan.conditions), Surety::mean);
  find_remedy(setting, FromHereOn(setting, deviation, approach, situation.now), situation);
  return situation;
}

}  // namespace glidewright

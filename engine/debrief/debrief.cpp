#include "engine/debrief/debrief.hpp"

#include <algorithm>
#include <cmath>

#include "engine/air/atmosphere.hpp"
#include "engine/debrief/airspeed.hpp"
#include "engine/debrief/causes.hpp"
#include "engine/debrief/findings.hpp"
#include "engine/debrief/lesson.hpp"
#include "engine/debrief/log_quality.hpp"
#include "engine/debrief/session.hpp"
#include "engine/plan/search.hpp"
#include "engine/plan/taught.hpp"
#include "engine/units/words.hpp"

namespace glidewright {
namespace {

constexpr double k_usual_weight_share = 0.92;
constexpr double k_near_runway_ft = 5.0 * k_metres_per_nautical_mile / k_metres_per_foot;

/// What the whole log shares.
struct Day : FlownDay {
  double gust_kt = 0.0;
  AirOfTrack air;
};

bool comes_near(const TrackLog& log, const RunwayFrame& frame) {
  return std::any_of(log.fixes.begin(), log.fixes.end(), [&](const Fix& fix) {
    const auto point = frame.to_runway(fix.place);
    return std::hypot(point.along_ft, point.cross_ft) < k_near_runway_ft;
  });
}

double density_of_the_day(const DebriefRequest& request, const RunwayFrame& frame,
                          std::vector<std::string>& assumed) {
  const Feet elevation{frame.point_elevation_ft()};
  const Hectopascals setting{request.altimeter_hpa.value_or(1013.25)};
  const Feet altitude = pressure_altitude(elevation, setting);
  const Celsius temperature =
      request.temperature_c ? Celsius{*request.temperature_c} : standard_temperature(altitude);
  if (!request.temperature_c || !request.altimeter_hpa) {
    assumed.push_back(
        words("air of %.0f °C and altimeter %.0f hPa at the field", temperature.value, setting.value));
  }
  // Half way down the approach stands for all of it.
  return density_ratio(altitude + Feet{400.0}, temperature);
}

TouchdownPrior touchdown_prior(const DebriefRequest& request, const Day& day, const WindEstimate& wind,
                               const RunwayFrame& frame) {
  TouchdownPrior prior;
  prior.headwind_kt = wind.headwind_kt;
  prior.headwind_sd_kt = std::max(1.5, wind.headwind_sd_kt);
  prior.stall_speed_landing_kcas =
      request.airplane.polar.stall_kcas(day.weight_lb, day.technique.landing_flap_deg);
  prior.stall_speed_sd_kt = 3.0;
  prior.density_ratio = day.density_ratio;
  prior.runway_position_sd_ft = frame.runway().position_sd.value;
  return prior;
}

/// Feet for a turn that the model cannot fly would be invented.
std::optional<std::string> steeper_than_the_model(const Attempt& attempt) {
  constexpr double model_turns_up_to_deg = 45.0;
  const auto sentence = [&](const char* turn,
                            const std::optional<BankEstimate>& bank) -> std::optional<std::string> {
    if (!bank || bank->bank_deg <= model_turns_up_to_deg) return std::nullopt;
    return words(
        "The %s was flown at %.0f° of bank; the model turns at up to %.0f°, so its feet would not be this "
        "flight's. "
        "No causes: the bank is the thing to talk about.",
        turn, bank->bank_deg, model_turns_up_to_deg);
  };
  if (auto steep = sentence("final turn", attempt.final_turn_bank)) return steep;
  return sentence("base turn", attempt.base_turn_bank);
}

/// Without a saved plan: the cue, in the reported wind, for what was flown abeam.
bool plan_for_what_was_flown(CausesRequest& causes, AttemptDebrief& one) {
  Technique& technique = causes.plan.technique;
  technique.pattern_height_ft = causes.flown.pattern_height_ft;
  technique.spacing_ft = causes.flown.spacing_ft;
  technique.pattern_speed_kt = causes.flown.pattern_speed_kt;
  const CueFound cue = search_cue(causes.plan);
  if (!cue.found) return false;
  causes.planned_cue_s = cue.cue_s;
  one.planned = fly_nominal(causes.plan, cue.cue_s, Trace::every_decision);
  return true;
}

/// The course of base is read from two places, and the eye has steered between them: turned a little until
/// the approach without rules touches where the planned one did.
Technique held_still(const PlanRequest& plan, Technique technique, const Approach& planned) {
  constexpr double near_enough_ft = 10.0, first_step_deg = 2.0, farthest_step_deg = 10.0;
  const auto off_ft = [&](double course_deg) {
    Technique tried = technique;
    tried.base_course_deg = course_deg;
    const Approach flown = fly(plan.airplane, plan.conditions, without_rules(tried), {},
                               {0.05, Trace::none, Watch::touchdown_only});
    return flown.touchdown ? flown.touchdown->along_ft - planned.touchdown->along_ft : 1e9;
  };
  double before_deg = technique.base_course_deg, before_ft = off_ft(before_deg);
  double here_deg = before_deg + first_step_deg, here_ft = off_ft(here_deg);
  double best_deg = before_deg, best_ft = before_ft;
  for (int round = 0; round < 8 && std::abs(best_ft) > near_enough_ft; ++round) {
    if (std::abs(here_ft) < std::abs(best_ft)) {
      best_deg = here_deg;
      best_ft = here_ft;
    }
    if (std::abs(here_ft - before_ft) < 1e-9) break;
    const double step_deg = std::clamp(-here_ft * (here_deg - before_deg) / (here_ft - before_ft),
                                       -farthest_step_deg, farthest_step_deg);
    before_deg = here_deg;
    before_ft = here_ft;
    here_deg += step_deg;
    here_ft = off_ft(here_deg);
  }
  technique.base_course_deg = std::abs(here_ft) < std::abs(best_ft) ? here_deg : best_deg;
  return technique;
}

/// With one: its own approach, the rules answering what is left of it; what they did there is then where
/// flaps, slip and base stand, so that in the flights behind the causes nothing answers anything.
bool follow_saved_plan(const SavedPlan& saved, CausesRequest& causes, AttemptDebrief& one) {
  causes.pattern_was_planned = true;
  causes.planned_cue_s = saved.cue_s;
  causes.plan.technique = saved.technique;
  causes.plan.technique.base_turn_s_after_abeam = saved.cue_s;
  const Approach planned = fly_nominal_with_rules(causes.plan, saved.cue_s, Trace::every_decision);
  if (planned.end != ApproachEnd::touchdown || !planned.touchdown) return false;
  causes.plan.technique = held_still(causes.plan, as_it_went(causes.plan.technique, planned), planned);
  one.planned = planned;
  return true;
}

/// The plan for what was flown abeam, in the wind that was reported before the flight; and the causes against
/// it.
void explain(AttemptDebrief& one, const DebriefRequest& request, const Debrief& debrief, const Day& day,
             const AirOfTrack& air) {
  Causes& causes = one.causes;
  if (one.attempt.kind == AttemptKind::power_assisted) {
    causes.not_offered_because = "Flown with power: the power-off plan does not apply.";
    return;
  }
  if (one.attempt.outcome == Outcome::unfinished) {
    causes.not_offered_because = "The log ends before the approach does.";
    return;
  }
  if (!request.reported_wind && !request.plan) {
    causes.not_offered_because =
        "Causes are measured against the plan, and the plan needs the wind reported before the flight: add "
        "it.";
    return;
  }
  const auto flown = read_flown(one.attempt, one.touchdown, debrief.track, debrief.log, air, debrief.wind,
                                day.technique, one.marks ? &*one.marks : nullptr);
  if (!flown) {
    causes.not_offered_because = "Abeam, base turn and a place on final are not all in this log.";
    return;
  }
  if (const auto too_steep = steeper_than_the_model(one.attempt)) {
    causes.not_offered_because = *too_steep;
    return;
  }
  CausesRequest causes_request{.plan = {},
                               .pattern_was_planned = false,
                               .planned_cue_s = 0.0,
                               .flown = *flown,
                               .wind = debrief.wind,
                               .touchdown = one.touchdown};
  PlanRequest& plan = causes_request.plan;
  plan.airplane = request.airplane;
  plan.conditions = {request.plan ? request.plan->wind : *request.reported_wind, day.density_ratio,
                     day.weight_lb, debrief.frame.runway().true_bearing.value, one.attempt.traffic};
  plan.technique = day.technique;
  const bool there = request.plan ? follow_saved_plan(*request.plan, causes_request, one)
                                  : plan_for_what_was_flown(causes_request, one);
  if (!there) {
    causes.not_offered_because =
        request.plan
            ? "The saved plan, flown in its own wind, does not reach the runway: was it made for this "
              "airplane and runway?"
            : "No plan reaches the point from the height and spacing flown abeam.";
    return;
  }
  if (landed(one.attempt.outcome) && one.touchdown) {
    causes = find_causes(causes_request);
    one.lesson = lesson_of(causes_request, causes);
  } else {
    GoAroundExplained explained = explain_go_around(causes_request, one.marks && one.marks->go_around_forced);
    one.projected_touchdown = std::move(explained.projected);
    causes = std::move(explained.causes);
  }
  causes.plan_basis =
      request.plan
          ? "the saved plan: " + request.plan->words
          : "no plan was saved: planned in the reported wind for the height, spacing and speed flown abeam";
}

/// The lever closed when somebody says so; its place and height are the track's.
KeyPoint marked_idle(double time_unix_s, const SmoothTrack& track) {
  constexpr double by_hand_s = 0.5;
  const TrackState state = track.at(time_unix_s);
  KeyPoint idle;
  idle.time_unix_s = time_unix_s;
  idle.time_sd_s = by_hand_s;
  idle.place = {state.along_ft, state.cross_ft};
  idle.height_ft = state.height_ft;
  idle.height_sd_ft = state.height_sd_ft;
  idle.groundspeed_kt = std::hypot(state.along_fps, state.cross_fps) / k_fps_per_knot;
  idle.climb_fpm = state.climb_fps * 60.0;
  return idle;
}

/// What somebody saw stands in place of what the log says; the log's own stays beside it.
void apply_marks(const AttemptMarks& marks, const Debrief& debrief, const TouchdownPrior& prior,
                 AttemptDebrief& one) {
  one.marks = marks;
  if (const auto idle = marks.idle ? time_of(*marks.idle, one.attempt) : std::nullopt)
    one.attempt.idle = marked_idle(*idle, debrief.track);
  if (!marks.moves_touchdown()) return;
  if (!one.touchdown) {
    one.attempt.notes.push_back("A touchdown is marked, but the log shows no landing here.");
    return;
  }
  one.touchdown_from_log = one.touchdown;
  const auto moment = marks.touchdown_at ? time_of(marks.touchdown_at->at, one.attempt) : std::nullopt;
  if (moment)
    one.touchdown = touchdown_at_moment(debrief.log, debrief.frame, debrief.track, *moment,
                                        marks.touchdown_at->sd_s, prior);
  if (!marks.touchdown_seen) return;
  const std::string excluded = disagreement(*marks.touchdown_seen, *one.touchdown);
  if (!excluded.empty()) one.attempt.notes.push_back(excluded);
  one.touchdown = touchdown_seen(*marks.touchdown_seen, *one.touchdown, debrief.track);
}

/// Narrows the touchdown by what a phone felt, or says why not.
void feel(const Accelerometer& accelerometer, const RoughClock& rough, double landing_unix_s,
          const Debrief& debrief, const TouchdownPrior& prior, AttemptDebrief& one) {
  // Two files of one device: its receiver stamps a position a little late. Told: read off by a person.
  constexpr double same_sd_s = 0.1, told_sd_s = 0.15;
  FeltLanding& felt = one.felt.emplace();
  std::optional<ClockOffset> clock;
  switch (accelerometer.clock.kind) {
    case ClockWish::Kind::same:
      clock = known_clock(0.0, same_sd_s);
      break;
    case ClockWish::Kind::told:
      clock = known_clock(accelerometer.clock.ahead_s, told_sd_s);
      break;
    case ClockWish::Kind::find:
      if (!rough.ahead_s) {
        felt.left_out_because = rough.reason;
        return;
      }
      clock = find_fine_clock(accelerometer.log, debrief.track, *rough.ahead_s, landing_unix_s);
  }
  if (!clock) {
    felt.left_out_because =
        "around this landing nothing shows within a second how far its clock is from the log's";
    return;
  }
  if (accelerometer.clock.kind != ClockWish::Kind::find) {
    if (const auto shown =
            clock_shown_otherwise(accelerometer.log, debrief.track, rough, *clock, landing_unix_s)) {
      felt.left_out_because = words(
          "its clock was said to be %+.1f s ahead of the log's, but turns and rolls show it %+.1f s ahead; "
          "expected that, or no clock told, so that it is found",
          clock->mean_s(), *shown);
      return;
    }
  }
  felt.clock_ahead_s = clock->mean_s();
  felt.clock_sd_s = clock->sd_s();
  auto answer = touchdown_as_felt(debrief.log, debrief.frame, debrief.track, landing_unix_s, prior,
                                  accelerometer.log, *clock);
  felt.bounce_probability = answer.bounce_probability;
  felt.left_out_because = answer.left_out_because;
  if (!answer.touchdown) return;
  one.touchdown_from_positions = std::move(one.touchdown);
  one.touchdown = std::move(answer.touchdown);
}

/// What a reader has to know of an accelerometer that was given: used where, left out why.
void note_accelerometer(const Accelerometer& accelerometer, const std::vector<AttemptDebrief>& attempts,
                        LogQuality& quality) {
  for (const std::string& note : accelerometer.log.notes) quality.notes.push_back("accelerometer: " + note);
  std::vector<std::string> said;
  for (const AttemptDebrief& one : attempts) {
    if (!one.felt || one.felt->left_out_because.empty()) continue;
    const std::string why = "the accelerometer is left out";
    std::string which;
    for (const AttemptDebrief& other : attempts)
      if (other.felt && other.felt->left_out_because == one.felt->left_out_because)
        which += words(which.empty() ? " of attempt %d" : ", %d", other.attempt.index);
    const std::string note = why + which + ": " + one.felt->left_out_because;
    if (std::find(said.begin(), said.end(), note) == said.end()) said.push_back(note);
  }
  quality.notes.insert(quality.notes.end(), said.begin(), said.end());
}

AttemptDebrief debrief_attempt(const Attempt& attempt, const DebriefRequest& request,
                               const RoughClock& rough_clock, const Debrief& debrief, const Day& day) {
  AttemptDebrief one;
  one.attempt = attempt;
  const TouchdownPrior prior = touchdown_prior(request, day, debrief.wind, debrief.frame);
  if (landed(attempt.outcome) && attempt.landing_time_unix_s) {
    one.touchdown =
        locate_touchdown(debrief.log, debrief.frame, debrief.track, *attempt.landing_time_unix_s, prior);
    if (request.accelerometer)
      feel(*request.accelerometer, rough_clock, *attempt.landing_time_unix_s, debrief, prior, one);
  }
  if (const AttemptMarks* marks = marks_of(request.marks, attempt.index))
    apply_marks(*marks, debrief, prior, one);
  const FindingsContext context{
      request.airplane,
      day.technique,
      debrief.track,
      debrief.log,
      day.air,
      day.weight_lb,
      std::hypot(1.5, std::max(debrief.wind.headwind_sd_kt, debrief.wind.crosswind_sd_kt)),
      one.marks ? &*one.marks : nullptr};
  one.findings = find_safety(attempt, context);
  if (attempt.gate) one.gate_stability = judge_gate(attempt, context);
  const auto speed = speed_on_final(attempt, context);
  for (const auto& standard : request.standards)
    one.grades.push_back(grade(standard, attempt, one.touchdown, speed));
  one.airmanship = judge_airmanship(attempt, one.findings, one.gate_stability);
  explain(one, request, debrief, day, day.air);
  return one;
}

/// A mark for an attempt that the log does not have is a slip of the pen that must not pass unseen.
std::string mark_without_attempt(const DebriefRequest& request, const Debrief& debrief) {
  for (const AttemptMarks& marks : request.marks) {
    const bool there =
        std::any_of(debrief.attempts.begin(), debrief.attempts.end(),
                    [&](const AttemptDebrief& one) { return one.attempt.index == marks.attempt; });
    if (!there)
      return words("attempt %d is marked, but the log has attempts 1 to %d", marks.attempt,
                   debrief.attempts.back().attempt.index);
  }
  return {};
}

/// The runway moved along by every touchdown that was seen; none where its place is known well enough, or
/// nothing was seen.
std::optional<Runway> runway_as_seen(const Debrief& debrief) {
  constexpr double well_known_ft = 15.0;
  RunwayFrame frame = debrief.frame;
  bool moved = false;
  for (const AttemptDebrief& one : debrief.attempts) {
    if (frame.runway().position_sd.value <= well_known_ft) break;
    if (!one.marks || !one.marks->touchdown_seen || !one.touchdown_from_log) continue;
    Touchdown from_log = *one.touchdown_from_log;
    const Geodetic there = debrief.frame.to_geodetic({from_log.along_ft, 0.0});
    from_log.along_ft = frame.to_runway(there).along_ft;
    frame = RunwayFrame(moved_by_what_was_seen(frame, *one.marks->touchdown_seen, from_log),
                        debrief.frame.touchdown_point_past_threshold());
    moved = true;
  }
  if (!moved) return std::nullopt;
  return frame.runway();
}

/// Heights in the wrong unit hide the ground too: would the log show a runway in the other one?
std::optional<HeightUnitDoubt> doubt_without_runway(const DebriefRequest& request) {
  const double factor =
      request.log.heights_in == HeightUnit::metres ? k_metres_per_foot : 1.0 / k_metres_per_foot;
  TrackLog other = request.log;
  for (Fix& fix : other.fixes)
    if (fix.altitude_ft) *fix.altitude_ft *= factor;
  auto runway = runway_from_log(other);
  if (!runway) return std::nullopt;
  runway->elevation = Feet{runway->elevation.value / factor};
  const RunwayFrame frame(*runway, request.touchdown_point);
  const auto track = smooth(request.log, frame, Feet{request.airplane.handbook.antenna_height_ft});
  return doubt_height_unit(request.log, track, frame, RunwayElevation::from_the_log);
}

DebriefAnswer debrief_on_runway(const DebriefRequest& request) {
  if (request.log.fixes.empty()) return {{}, "the log holds no positions"};
  std::vector<std::string> assumed;
  std::optional<Runway> runway = request.runway;
  if (!runway) {
    runway = runway_from_log(request.log);
    if (!runway) {
      std::string reason =
          "no runway was given and nothing in the log rolls along a straight line on the ground; add "
          "--runway";
      if (const auto doubt = doubt_without_runway(request)) reason += "; " + height_unit_words(*doubt);
      return {{}, reason};
    }
    assumed.push_back(
        words("runway found in the log: true bearing %.0f°; its threshold is a guess within %.0f ft",
              runway->true_bearing.value, runway->position_sd.value));
  }
  const RunwayFrame frame(*runway, request.touchdown_point);
  if (!comes_near(request.log, frame)) {
    return {{}, "no part of this log comes within 5 NM of the runway; check --runway"};
  }

  Debrief debrief{.log = request.log,
                  .quality = {},
                  .frame = frame,
                  .track = smooth(request.log, frame, Feet{request.airplane.handbook.antenna_height_ft}),
                  .wind = {},
                  .box = {},
                  .day = {},
                  .attempts = {},
                  .session = {},
                  .assumed = std::move(assumed),
                  .cautions = {}};
  std::vector<Attempt> attempts = find_attempts(debrief.track, request.log, frame);
  if (request.traffic) {
    std::erase_if(attempts, [&](const Attempt& a) { return a.abeam && a.traffic != *request.traffic; });
  }
  const auto height_unit =
      doubt_height_unit(request.log, debrief.track, frame,
                        request.runway ? RunwayElevation::known : RunwayElevation::from_the_log);
  if (attempts.empty()) {
    std::string reason = "no approach to this runway ends in a landing or a go-around in this log";
    if (height_unit) reason += "; " + height_unit_words(*height_unit);
    return {{}, reason};
  }

  Day day;
  day.weight_lb =
      request.weight_lb.value_or(k_usual_weight_share * request.airplane.handbook.maximum_weight_lb.value);
  if (!request.weight_lb) {
    debrief.assumed.push_back(
        words("weight %.0f lb, %.2f of the maximum", day.weight_lb, k_usual_weight_share));
  }
  day.density_ratio = density_of_the_day(request, frame, debrief.assumed);
  day.gust_kt = request.reported_wind ? request.reported_wind->gust.value : 0.0;
  day.technique = taught_technique(request.airplane, day.weight_lb, day.gust_kt);

  WindPrior prior;
  prior.reported = request.reported_wind;
  prior.usual_airspeed_kt =
      true_airspeed({Knots{day.technique.base_speed_kt}}, day.density_ratio).value.value;
  prior.recorded = RecordedAirspeed(request.log.panel);
  prior.true_over_calibrated = 1.0 / std::sqrt(day.density_ratio);
  debrief.wind = estimate_wind(debrief.track, attempts, frame, prior);
  if (!request.reported_wind) debrief.assumed.push_back("no reported wind: the wind is the log's own");
  day.air = {wind_profile(debrief.wind), frame.runway().true_bearing.value, day.density_ratio,
             RecordedAirspeed(request.log.panel)};

  debrief.day = day;
  const auto with_box = std::find_if(request.standards.begin(), request.standards.end(),
                                     [](const Standard& standard) { return standard.box.has_value(); });
  if (with_box != request.standards.end()) debrief.box = *with_box->box;
  debrief.quality = judge_log(request.log, debrief.track, height_unit);
  RoughClock rough_clock;
  if (request.accelerometer) rough_clock = find_rough_clock(request.accelerometer->log, debrief.track);
  for (const auto& attempt : attempts) {
    debrief.attempts.push_back(debrief_attempt(attempt, request, rough_clock, debrief, day));
  }
  if (request.accelerometer) note_accelerometer(*request.accelerometer, debrief.attempts, debrief.quality);
  debrief.session = session_of(debrief.attempts);
  const std::string astray = mark_without_attempt(request, debrief);
  if (!astray.empty()) return {{}, astray};
  return {std::move(debrief), ""};
}

}  // namespace

DebriefAnswer make_debrief(const DebriefRequest& request) {
  DebriefAnswer first = debrief_on_runway(request);
  if (!first.debrief) return first;
  const auto runway = runway_as_seen(*first.debrief);
  if (!runway) return first;
  DebriefRequest again = request;
  again.runway = runway;
  DebriefAnswer second = debrief_on_runway(again);
  if (!second.debrief) return first;
  const double moved_ft =
      first.debrief->frame.to_runway(runway->threshold).along_ft - first.debrief->frame.threshold_along_ft();
  auto& assumed = second.debrief->assumed;
  for (const auto& one : first.debrief->assumed)
    if (std::find(assumed.begin(), assumed.end(), one) == assumed.end()) assumed.push_back(one);
  assumed.push_back(
      words("the touchdown that was seen moves the runway by %+.0f ft; its place is now known within %.0f ft",
            moved_ft, 1.96 * runway->position_sd.value));
  return second;
}

}  // namespace glidewright

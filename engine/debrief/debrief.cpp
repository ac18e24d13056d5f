#include "engine/debrief/debrief.hpp"

#include <algorithm>
#include <cmath>

#include "engine/air/atmosphere.hpp"
#include "engine/debrief/airspeed.hpp"
#include "engine/debrief/causes.hpp"
#include "engine/debrief/findings.hpp"
#include "engine/debrief/lesson.hpp"
#include "engine/debrief/log_quality.hpp"
#include "engine/plan/search.hpp"
#include "engine/plan/taught.hpp"
#include "engine/units/words.hpp"

namespace glidewright {
namespace {

constexpr double k_usual_weight_share = 0.92;
constexpr double k_near_runway_ft = 5.0 * k_metres_per_nautical_mile / k_metres_per_foot;

/// What the whole log shares.
struct Day {
  double weight_lb = 0.0;
  double density_ratio = 1.0;
  double gust_kt = 0.0;
  Technique technique;
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

bool on_the_ground(Outcome outcome) {
  return outcome == Outcome::landed || outcome == Outcome::touch_and_go || outcome == Outcome::stop_and_go;
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
  if (!request.reported_wind) {
    causes.not_offered_because =
        "Causes are measured against the plan, and the plan needs the wind reported before the flight: add "
        "it.";
    return;
  }
  const auto flown =
      read_flown(one.attempt, one.touchdown, debrief.track, debrief.log, air, debrief.wind, day.technique);
  if (!flown) {
    causes.not_offered_because = "Abeam, base turn and a place on final are not all in this log.";
    return;
  }
  CausesRequest causes_request{
      .plan = {}, .planned_cue_s = 0.0, .flown = *flown, .wind = debrief.wind, .touchdown = one.touchdown};
  PlanRequest& plan = causes_request.plan;
  plan.airplane = request.airplane;
  plan.conditions = {*request.reported_wind, day.density_ratio, day.weight_lb,
                     debrief.frame.runway().true_bearing.value, one.attempt.traffic};
  plan.technique = day.technique;
  plan.technique.pattern_height_ft = flown->pattern_height_ft;
  plan.technique.spacing_ft = flown->spacing_ft;
  plan.technique.pattern_speed_kt = flown->pattern_speed_kt;
  const CueFound cue = search_cue(plan);
  if (!cue.found) {
    causes.not_offered_because = "No plan reaches the point from the height and spacing flown abeam.";
    return;
  }
  causes_request.planned_cue_s = cue.cue_s;
  if (on_the_ground(one.attempt.outcome) && one.touchdown) {
    causes = find_causes(causes_request);
    one.lesson = lesson_of(causes_request, causes);
  } else {
    one.projected_touchdown = project_touchdown(causes_request);
    causes.not_offered_because = "Went around: nothing was missed.";
  }
  causes.plan_basis =
      "no plan was saved: planned in the reported wind for the height, spacing and speed flown abeam";
}

AttemptDebrief debrief_attempt(const Attempt& attempt, const DebriefRequest& request, const Debrief& debrief,
                               const Day& day) {
  AttemptDebrief one;
  one.attempt = attempt;
  if (on_the_ground(attempt.outcome) && attempt.landing_time_unix_s) {
    one.touchdown = locate_touchdown(debrief.log, debrief.frame, debrief.track, *attempt.landing_time_unix_s,
                                     touchdown_prior(request, day, debrief.wind, debrief.frame));
  }
  const FindingsContext context{
      request.airplane,
      day.technique,
      debrief.track,
      debrief.log,
      day.air,
      day.weight_lb,
      std::hypot(1.5, std::max(debrief.wind.headwind_sd_kt, debrief.wind.crosswind_sd_kt))};
  one.findings = find_safety(attempt, context);
  if (attempt.gate) one.gate_stability = judge_gate(attempt, context);
  for (const auto& standard : request.standards)
    one.grades.push_back(grade(standard, attempt, one.touchdown));
  one.airmanship = judge_airmanship(attempt, one.findings, one.gate_stability);
  explain(one, request, debrief, day, day.air);
  return one;
}

}  // namespace

DebriefAnswer make_debrief(const DebriefRequest& request) {
  if (request.log.fixes.empty()) return {{}, "the log holds no positions"};
  std::vector<std::string> assumed;
  std::optional<Runway> runway = request.runway;
  if (!runway) {
    runway = runway_from_log(request.log);
    if (!runway) {
      return {{},
              "no runway was given and nothing in the log rolls along a straight line on the ground; add "
              "--runway"};
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
                  .attempts = {},
                  .assumed = std::move(assumed),
                  .cautions = {}};
  std::vector<Attempt> attempts = find_attempts(debrief.track, request.log, frame);
  if (request.traffic) {
    std::erase_if(attempts, [&](const Attempt& a) { return a.abeam && a.traffic != *request.traffic; });
  }
  if (attempts.empty()) {
    return {{}, "no approach to this runway ends in a landing or a go-around in this log"};
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
  debrief.wind = estimate_wind(debrief.track, attempts, frame, prior);
  if (!request.reported_wind) debrief.assumed.push_back("no reported wind: the wind is the log's own");
  day.air = {wind_profile(debrief.wind), frame.runway().true_bearing.value, day.density_ratio};

  const auto with_box = std::find_if(request.standards.begin(), request.standards.end(),
                                     [](const Standard& standard) { return standard.box.has_value(); });
  if (with_box != request.standards.end()) debrief.box = *with_box->box;
  debrief.quality = judge_log(request.log, debrief.track);
  for (const auto& attempt : attempts) {
    debrief.attempts.push_back(debrief_attempt(attempt, request, debrief, day));
  }
  return {std::move(debrief), ""};
}

}  // namespace glidewright

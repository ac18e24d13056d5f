#pragma once
// Approaches with known mistakes, for measuring the causes: flown by another polar, wind profile and pilot
// than the debrief knows, in rough air, logged once a second or, every other one, five times.

#include <algorithm>
#include <cmath>
#include <optional>
#include <string>
#include <vector>

#include "bench/random_approaches.hpp"
#include "engine/air/atmosphere.hpp"
#include "engine/debrief/debrief.hpp"
#include "engine/debrief/shapley.hpp"
#include "engine/plan/dry_run.hpp"
#include "engine/plan/search.hpp"
#include "tests/engine/debrief/flown_log.hpp"

namespace glidewright {

/// What the debrief calls its causes.
inline const std::vector<std::string> k_cause_names = {"idle timing",
                                                       "base turn",
                                                       "path to final",
                                                       "flaps",
                                                       "wind and airplane together",
                                                       "speed held, net",
                                                       "flare and touchdown speed",
                                                       "slip"};

/// One approach: the plan that was made, what was flown, and what each decision was really worth.
struct SyntheticLesson {
  PlanRequest plan;  ///< airplane and wind as the debrief is told
  double planned_cue_s = 0.0;
  Airplane airplane;      ///< as it really is
  Conditions conditions;  ///< as they really were
  TurbulentAir air;
  Technique flown;
  test::LoggedFlight log;
  std::vector<double> worth_ft;  ///< of k_cause_names, exact
  /// The same where nobody recorded flaps and slip: they are in the line of wind and airplane.
  std::vector<double> worth_flaps_unknown_ft;
};

inline Runway lesson_field() {
  return {.airfield = "Nowhere (invented)",
          .designator = "24",
          .threshold = {54.5, 2.5},
          .true_bearing = {240.0},
          .elevation = {80.0},
          .length = {5500.0}};
}
inline constexpr double k_lesson_point_ft = 1500.0;

/// Two normal numbers' worth of luck from the scene's own.
inline double normal(Luck& luck, double sd) {
  const double radius = std::sqrt(-2.0 * std::log(luck.between(1e-7, 1.0)));
  return sd * radius * std::cos(luck.between(0.0, 6.283185307179586));
}

/// The true airplane: other drag, another flap's worth, another knee.
inline Airplane another_airplane(const Airplane& airplane, Luck& luck) {
  Airplane other = with_drag_changed(airplane, normal(luck, 0.03));
  for (auto& flap : other.polar.flaps) {
    if (flap.setting_deg > 0.0) flap.parasite *= 1.0 + normal(luck, 0.06);
  }
  other.polar.knee_gain *= 1.0 + normal(luck, 0.1);
  other.polar.turn_drag_gain *= 1.0 + normal(luck, 0.2);
  other.polar.slip_parasite *= 1.0 + normal(luck, 0.15);
  return other;
}

inline Conditions other_conditions(const Conditions& told, Luck& luck) {
  Conditions really = told;
  const auto [head, cross] = components(told.wind.at_10m, Degrees{told.runway_true_deg});
  really.wind.at_10m = wind_with({head + Knots{normal(luck, 1.5)}, cross + Knots{normal(luck, 1.5)}},
                                 Degrees{told.runway_true_deg});
  really.wind.power_law_exponent = luck.between(0.08, 0.20);
  really.density_ratio *= 1.0 + normal(luck, 0.01);
  return really;
}

/// Two or three decisions otherwise than planned, the rest nearly as planned.
inline Technique with_mistakes(const Technique& planned, Luck& luck) {
  Technique flown = planned;
  flown.base_turn_s_after_abeam += normal(luck, 0.3);
  flown.base_speed_kt += normal(luck, 0.7);
  flown.final_speed_kt += normal(luck, 0.7);
  flown.touchdown_speed_kt += normal(luck, 1.0);
  flown.idle_s_after_abeam += normal(luck, 0.3);
  const auto sided = [&](double low, double high) {
    const double size = luck.between(low, high);
    return luck.one_in(2) ? size : -size;
  };
  if (luck.one_in(2)) flown.base_turn_s_after_abeam += sided(1.5, 4.0);
  if (luck.one_in(3)) flown.idle_s_after_abeam += sided(1.0, 3.0);
  if (luck.one_in(3)) {
    const double off_kt = sided(3.0, 8.0);
    flown.final_speed_kt = std::max(planned.final_speed_kt - 4.0, flown.final_speed_kt + off_kt);
    flown.base_speed_kt = std::max(planned.base_speed_kt - 4.0, flown.base_speed_kt + off_kt);
  }
  flown.short_final_speed_kt = flown.final_speed_kt + planned.short_final_speed_kt - planned.final_speed_kt;
  if (luck.one_in(3)) flown.base_course_deg = sided(6.0, 14.0);
  if (luck.one_in(3) && !flown.flaps.empty()) {
    if (luck.one_in(2)) {
      flown.flaps.pop_back();
    } else {
      flown.flaps.back().when = FlapStep::When::at_height;
      flown.flaps.back().height_ft = luck.between(200.0, 330.0);
    }
  }
  if (luck.one_in(4)) flown.touchdown_speed_kt += sided(2.0, 4.0);
  if (luck.one_in(4)) flown.slip = SlipStep{luck.between(260.0, 420.0), luck.between(100.0, 190.0)};
  flown.base_turn_s_after_abeam = std::max(1.0, flown.base_turn_s_after_abeam);
  return flown;
}

/// The game of the causes with everything known: which set is as flown, touchdown of that flight. Gusts
/// belong to wind and airplane: what moves the air that nobody recorded is in that line of the debrief too.
inline double touchdown_of(const SyntheticLesson& lesson, Coalition as_flown) {
  const auto has = [&](int cause) { return ((as_flown >> cause) & 1U) != 0; };
  Technique technique = without_rules(lesson.plan.technique);
  technique.base_turn_s_after_abeam = lesson.planned_cue_s;
  const Technique& flown = lesson.flown;
  if (has(0)) technique.idle_s_after_abeam = flown.idle_s_after_abeam;
  if (has(1)) technique.base_turn_s_after_abeam = flown.base_turn_s_after_abeam;
  if (has(2)) technique.base_course_deg = flown.base_course_deg;
  if (has(3)) technique.flaps = as_it_went(flown, lesson.log.approach).flaps;
  if (has(5)) {
    technique.base_speed_kt = flown.base_speed_kt;
    technique.final_speed_kt = flown.final_speed_kt;
    technique.short_final_speed_kt = flown.short_final_speed_kt;
  }
  if (has(7)) technique.slip = as_it_went(flown, lesson.log.approach).slip;
  if (has(6)) technique.touchdown_speed_kt = flown.touchdown_speed_kt;
  const Airplane& airplane = has(4) ? lesson.airplane : lesson.plan.airplane;
  const Conditions& conditions = has(4) ? lesson.conditions : lesson.plan.conditions;
  const TurbulentAir air = has(4) ? lesson.air : TurbulentAir{};
  return fly(airplane, conditions, technique, {}, {0.05, Trace::none, Watch::touchdown_only}, air)
      .touchdown->along_ft;
}

/// Lesson `number`; none where no plan reaches the point or the flight ends short of final.
inline std::optional<SyntheticLesson> synthetic_lesson(const Airplane& airplane, std::uint64_t number) {
  Luck luck(number);
  SyntheticLesson lesson;
  PlanRequest& plan = lesson.plan;
  plan.airplane = airplane;
  plan.conditions.runway_true_deg = 240.0;
  // The field's standard air, half way down the approach: what a debrief takes that is told no other.
  plan.conditions.density_ratio =
      density_ratio(lesson_field().elevation + Feet{400.0}, standard_temperature(lesson_field().elevation));
  plan.conditions.wind.at_10m = {Degrees{240.0 + luck.between(-60.0, 60.0)}, Knots{luck.between(0.0, 13.0)}};
  plan.conditions.weight_lb = luck.between(0.85, 1.0) * airplane.handbook.maximum_weight_lb.value;
  plan.conditions.traffic = luck.one_in(2) ? Traffic::right : Traffic::left;
  plan.technique = taught_technique(airplane, plan.conditions.weight_lb, 0.0);
  plan.technique.pattern_height_ft = luck.between(930.0, 1070.0);
  plan.technique.spacing_ft = luck.between(2700.0, 3400.0);
  const CueFound cue = search_cue(plan);
  if (!cue.found || cue.cue_s < 3.0) return std::nullopt;
  lesson.planned_cue_s = cue.cue_s;
  lesson.airplane = another_airplane(airplane, luck);
  lesson.conditions = other_conditions(plan.conditions, luck);
  Technique planned = without_rules(plan.technique);
  planned.base_turn_s_after_abeam = cue.cue_s;
  lesson.flown = with_mistakes(planned, luck);
  const RunwayFrame frame(lesson_field(), Feet{k_lesson_point_ft});
  lesson.air = {vertical_gust_sd_fps(lesson.conditions.wind, 0.6), 7, number};
  lesson.log = test::log_of(lesson.airplane, lesson.conditions, lesson.flown, frame,
                            static_cast<unsigned>(number), lesson.air, number % 2 == 0 ? 1.0 : 5.0);
  if (lesson.log.approach.end != ApproachEnd::touchdown) return std::nullopt;
  const int causes = static_cast<int>(k_cause_names.size());
  std::vector<double> touchdown_ft;
  for (Coalition set = 0; set < Coalition{1} << causes; ++set)
    touchdown_ft.push_back(touchdown_of(lesson, set));
  lesson.worth_ft = shapley_shares(causes, touchdown_ft);
  constexpr Coalition flaps_and_slip = 1U << 3 | 1U << 7, air = 1U << 4;
  std::vector<double> flaps_with_air_ft;
  for (Coalition set = 0; set < Coalition{1} << causes; ++set)
    flaps_with_air_ft.push_back(
        touchdown_ft[(set & air) != 0 ? set | flaps_and_slip : set & ~flaps_and_slip]);
  lesson.worth_flaps_unknown_ft = shapley_shares(causes, flaps_with_air_ft);
  return lesson;
}

/// When the planned heights of a slip were passed on final.
inline std::optional<double> passed_s(const Approach& approach, double height_ft) {
  for (const Moment& moment : approach.trace)
    if (approach.final_leg && moment.time_s >= approach.final_leg->time_s && moment.height_ft <= height_ft)
      return moment.time_s;
  return std::nullopt;
}

/// Flap, slip, idle and the touchdown seen, as an instructor with a pencil marks them; or nothing.
inline DebriefRequest debrief_of(const SyntheticLesson& lesson, bool with_marks) {
  DebriefRequest request;
  request.log = lesson.log.log;
  request.runway = lesson_field();
  request.touchdown_point = Feet{k_lesson_point_ft};
  request.airplane = lesson.plan.airplane;
  request.reported_wind = lesson.plan.conditions.wind;
  request.weight_lb = lesson.plan.conditions.weight_lb;
  request.traffic = lesson.plan.conditions.traffic;
  if (!with_marks) return request;
  AttemptMarks marks;
  marks.attempt = 1;
  marks.marked_by = "the simulation";
  const auto after_abeam = [](double time_s) {
    MarkedMoment moment;
    moment.after_abeam_s = time_s;
    return moment;
  };
  marks.flaps.emplace();
  for (const LeverMove& move : lesson.log.approach.flap_moves) {
    marks.flaps->push_back({move.flap_deg, after_abeam(move.time_s)});
  }
  marks.slips.emplace();
  if (const auto& slip = lesson.log.approach.slip) {
    const auto in_s = passed_s(lesson.log.approach, slip->in_height_ft);
    const auto out_s = passed_s(lesson.log.approach, slip->out_height_ft);
    if (in_s && out_s) marks.slips->push_back({after_abeam(*in_s), after_abeam(*out_s)});
  }
  marks.idle = after_abeam(lesson.flown.idle_s_after_abeam);
  marks.touchdown_seen = SeenPlace{lesson.log.approach.touchdown->along_ft, 25.0};
  request.marks = {marks};
  return request;
}

}  // namespace glidewright

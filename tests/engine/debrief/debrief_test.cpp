#include "engine/debrief/debrief.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <cstdio>

#include "engine/plan/search.hpp"
#include "engine/plan/taught.hpp"
#include "tests/engine/airplane/trainer_handbook.hpp"
#include "tests/engine/debrief/flown_log.hpp"

namespace glidewright {
namespace {

Runway field() {
  return {.airfield = "Nowhere (invented)",
          .designator = "24",
          .threshold = {54.5, 2.5},
          .true_bearing = {240.0},
          .elevation = {80.0},
          .length = {4500.0}};
}

Standard commercial() {
  return {.id = "box",
          .name = "box",
          .edition = "",
          .clause = "",
          .source_state = "",
          .box = Box{0.0, 200.0},
          .speed_over_kt = {},
          .speed_under_kt = {},
          .power_off = true,
          .not_in_a_log = {}};
}

/// One approach flown by the engine in the reported wind, and everything that the debrief is asked with.
struct Scene {
  Airplane airplane = fit_airplane(trainer_handbook());
  RunwayFrame frame{field(), Feet{1000.0}};
  Conditions conditions;
  Technique technique;
  double planned_cue_s = 0.0;

  Scene() {
    conditions.wind.at_10m = {Degrees{250.0}, Knots{10.0}};
    conditions.density_ratio = 0.985;
    conditions.weight_lb = 2208.0;
    conditions.runway_true_deg = 240.0;
    technique = taught_technique(airplane, conditions.weight_lb, 0.0);
    PlanRequest request;
    request.airplane = airplane;
    request.conditions = conditions;
    request.technique = technique;
    planned_cue_s = search_cue(request).cue_s;
    technique = without_rules(technique);
    technique.base_turn_s_after_abeam = planned_cue_s;
  }

  DebriefRequest request(const TrackLog& log) const {
    DebriefRequest asked;
    asked.log = log;
    asked.runway = field();
    asked.touchdown_point = Feet{1000.0};
    asked.airplane = airplane;
    asked.reported_wind = conditions.wind;
    asked.weight_lb = conditions.weight_lb;
    asked.standards = {commercial()};
    return asked;
  }
};

const Cause& cause(const Causes& causes, const std::string& name) {
  const auto found = std::find_if(causes.causes.begin(), causes.causes.end(),
                                  [&](const Cause& c) { return c.cause == name; });
  EXPECT_NE(found, causes.causes.end()) << name;
  return *found;
}

TEST(Debrief, FindsTheApproachThatTheEngineFlewAndWhereItTouched) {
  const Scene scene;
  const auto flown = test::log_of(scene.airplane, scene.conditions, scene.technique, scene.frame, 1);
  const auto answer = make_debrief(scene.request(flown.log));
  ASSERT_TRUE(answer.debrief) << answer.reason;
  ASSERT_EQ(answer.debrief->attempts.size(), 1u);
  const auto& one = answer.debrief->attempts.front();
  EXPECT_EQ(one.attempt.kind, AttemptKind::power_off);
  EXPECT_EQ(one.attempt.outcome, Outcome::landed);
  ASSERT_TRUE(one.touchdown);
  EXPECT_GE(flown.approach.touchdown->along_ft, one.touchdown->low95_ft);
  EXPECT_LE(flown.approach.touchdown->along_ft, one.touchdown->high95_ft);
  ASSERT_TRUE(one.attempt.abeam && one.attempt.base_turn);
  // A fix a second and a roll-in of 1.4 to 1.9 s: the cue is read within 1.5 s.
  EXPECT_NEAR(one.attempt.base_turn->time_unix_s - one.attempt.abeam->time_unix_s, scene.planned_cue_s, 1.5);
}

TEST(Debrief, CausesAndWhatIsUnexplainedSumToTheMiss) {
  const Scene scene;
  const auto flown = test::log_of(scene.airplane, scene.conditions, scene.technique, scene.frame, 2);
  const auto answer = make_debrief(scene.request(flown.log));
  ASSERT_TRUE(answer.debrief) << answer.reason;
  const auto& one = answer.debrief->attempts.front();
  ASSERT_FALSE(one.causes.causes.empty()) << one.causes.not_offered_because;
  double sum = one.causes.planned_touchdown_ft + one.causes.unexplained_ft;
  for (const auto& c : one.causes.causes) sum += c.effect_ft;
  EXPECT_NEAR(sum, one.touchdown->along_ft, 0.01);  // an identity: only rounding of doubles
}

TEST(Debrief, NamesALateAndAnEarlyBaseTurnWithTheirSigns) {
  const Scene scene;
  for (const double late_s : {-3.0, 3.0}) {
    Technique technique = scene.technique;
    technique.base_turn_s_after_abeam = scene.planned_cue_s + late_s;
    const auto flown = test::log_of(scene.airplane, scene.conditions, technique, scene.frame, 3);
    const double moved_ft = flown.approach.touchdown->along_ft - technique.planned_touchdown_ft;
    const auto answer = make_debrief(scene.request(flown.log));
    ASSERT_TRUE(answer.debrief) << answer.reason;
    const auto& causes = answer.debrief->attempts.front().causes;
    ASSERT_FALSE(causes.causes.empty()) << causes.not_offered_because;
    const Cause& base_turn = cause(causes, "base turn");
    EXPECT_LT(late_s * base_turn.effect_ft, 0.0);  // late is short, early is long
    EXPECT_FALSE(base_turn.undecided());
    EXPECT_GE(moved_ft, base_turn.low95_ft);
    EXPECT_LE(moved_ft, base_turn.high95_ft);
    for (const auto& other : causes.causes) {
      if (other.cause != "base turn") {
        EXPECT_LT(std::abs(other.effect_ft), std::abs(base_turn.effect_ft)) << other.cause;
      }
    }
  }
}

MarkedMoment after_abeam(double time_s) {
  MarkedMoment moment;
  moment.after_abeam_s = time_s;
  return moment;
}

/// When a height was passed on final.
double passed_s(const Approach& approach, double height_ft) {
  for (const Moment& moment : approach.trace)
    if (moment.time_s >= approach.final_leg->time_s && moment.height_ft <= height_ft) return moment.time_s;
  return -1.0;
}

/// Base turned two seconds early, and what is too high slipped away.
struct Slipped {
  Scene scene;
  test::LoggedFlight flown;
  AttemptMarks marks;

  explicit Slipped(std::vector<MarkedFlap> flaps = {}) {
    Technique technique = scene.technique;
    technique.flaps.clear();
    technique.base_turn_s_after_abeam = std::max(1.0, scene.planned_cue_s - 2.0);
    technique.slip = SlipStep{380.0, 120.0};
    flown = test::log_of(scene.airplane, scene.conditions, technique, scene.frame, 5);
    marks.attempt = 1;
    marks.flaps = std::move(flaps);
    marks.slips = {{after_abeam(passed_s(flown.approach, flown.approach.slip->in_height_ft)),
                    after_abeam(passed_s(flown.approach, flown.approach.slip->out_height_ft))}};
  }
  AttemptDebrief debriefed(bool with_slip_marked) const {
    DebriefRequest asked = scene.request(flown.log);
    asked.marks = {marks};
    if (!with_slip_marked) asked.marks.front().slips.reset();
    return make_debrief(asked).debrief->attempts.front();
  }
};

TEST(Debrief, AMarkedSlipIsACauseOfItsOwnAndShortens) {
  const Slipped slipped;
  const Causes with = slipped.debriefed(true).causes;
  ASSERT_FALSE(with.causes.empty()) << with.not_offered_because;
  const Cause& slip = cause(with, "slip");
  EXPECT_LT(slip.high95_ft, 0.0);
  EXPECT_NE(slip.sentence.find("Slipped from"), std::string::npos) << slip.sentence;
  // What it was really worth: the same flight without it.
  Technique straight = slipped.scene.technique;
  straight.flaps.clear();
  straight.base_turn_s_after_abeam = std::max(1.0, slipped.scene.planned_cue_s - 2.0);
  const double without_ft =
      fly(slipped.scene.airplane, slipped.scene.conditions, straight).touchdown->along_ft;
  const double worth_ft = slipped.flown.approach.touchdown->along_ft - without_ft;
  EXPECT_GE(worth_ft, slip.low95_ft);
  EXPECT_LE(worth_ft, slip.high95_ft);
  // Unmarked it is in the line of wind and airplane, which says so.
  const Causes without = slipped.debriefed(false).causes;
  for (const Cause& one : without.causes) EXPECT_NE(one.cause, "slip");
  EXPECT_NE(cause(without, "wind and airplane together").sentence.find("a slip was not recorded"),
            std::string::npos);
  EXPECT_LT(cause(without, "wind and airplane together").effect_ft,
            cause(with, "wind and airplane together").effect_ft);
}

TEST(Debrief, ASlipShowsInARecordedHeading) {
  Slipped slipped;
  // Full rudder: the nose stands 11 degrees off the way through the air.
  const double abeam_unix_s = slipped.flown.log.fixes.front().time_unix_s + 40.0;
  double next_s = 0.0;
  for (const Moment& moment : slipped.flown.approach.trace) {
    if (moment.time_s < next_s) continue;
    next_s += 1.0;
    PanelSample sample;
    sample.time_unix_s = abeam_unix_s + moment.time_s;
    sample.heading_true_deg = wrap_360_deg(moment.heading_true_deg + 11.0 * moment.slip);
    slipped.flown.log.panel.push_back(sample);
  }
  const auto causes = slipped.debriefed(false).causes;
  ASSERT_FALSE(causes.causes.empty()) << causes.not_offered_because;
  EXPECT_LT(cause(causes, "slip").high95_ft, 0.0);
  // In 380 ft, out 120 ft; a reading a second at 15 to 20 ft/s, and the rudder takes its time.
  const std::string& sentence = cause(causes, "slip").sentence;
  double in_ft = 0.0, out_ft = 0.0;
  ASSERT_EQ(std::sscanf(sentence.c_str(), "Slipped from %lf to %lf ft", &in_ft, &out_ft), 2) << sentence;
  EXPECT_NEAR(in_ft, slipped.flown.approach.slip->in_height_ft, 40.0);
  EXPECT_NEAR(out_ft, slipped.flown.approach.slip->out_height_ft, 40.0);
  // The same heading held straight is none.
  for (PanelSample& sample : slipped.flown.log.panel)
    for (const Moment& moment : slipped.flown.approach.trace)
      if (std::abs(abeam_unix_s + moment.time_s - sample.time_unix_s) < 0.1)
        sample.heading_true_deg = moment.heading_true_deg;
  EXPECT_EQ(cause(slipped.debriefed(false).causes, "slip").sentence.substr(0, 8), "No slip,");
}

TEST(Debrief, ASlipWithMoreFlapThanIsAllowedIsAFinding) {
  Slipped slipped({{30.0, after_abeam(10.0)}});
  const auto slip_finding = [&](double limit_deg) {
    slipped.scene.airplane.handbook.slip_flap_limit_deg = limit_deg;
    for (const Finding& finding : slipped.debriefed(true).findings)
      if (finding.sentence.find("Slip with 30") != std::string::npos) return true;
    return false;
  };
  EXPECT_TRUE(slip_finding(20.0));
  EXPECT_FALSE(slip_finding(30.0));
}

/// A plan that was saved for 1,000 ft and half a mile; flown wider by 500 ft.
TEST(Debrief, AgainstASavedPlanAWideDownwindIsACauseOfItsOwn) {
  const Scene scene;
  SavedPlan plan{scene.conditions.wind, scene.technique, scene.planned_cue_s, "for the test"};
  Technique wide = scene.technique;
  wide.spacing_ft += 500.0;
  wide.go_around_when_unstable = false;
  const auto flown = test::log_of(scene.airplane, scene.conditions, wide, scene.frame, 5);
  DebriefRequest asked = scene.request(flown.log);
  const auto without = make_debrief(asked);
  ASSERT_TRUE(without.debrief);
  for (const Cause& one : without.debrief->attempts.front().causes.causes)
    EXPECT_NE(one.cause, "height and distance abeam") << "a plan for what was flown cannot know it";

  asked.plan = plan;
  const auto answer = make_debrief(asked);
  ASSERT_TRUE(answer.debrief) << answer.reason;
  const AttemptDebrief& one = answer.debrief->attempts.front();
  ASSERT_FALSE(one.causes.causes.empty()) << one.causes.not_offered_because;
  const Cause& abeam = cause(one.causes, "height and distance abeam");
  EXPECT_LT(abeam.high95_ft, 0.0) << "wider lands shorter";
  EXPECT_NE(one.causes.plan_basis.find("the saved plan: for the test"), std::string::npos);
  // The truth, flown: what 500 ft wider does to the planned approach.
  Technique planned = scene.technique;
  planned.go_around_when_unstable = false;
  const double as_planned = fly(scene.airplane, scene.conditions, planned).touchdown->along_ft;
  EXPECT_NEAR(one.causes.planned_touchdown_ft, as_planned, 40.0);
  EXPECT_NEAR(abeam.effect_ft, flown.approach.touchdown->along_ft - as_planned, 150.0);
  double sum = one.causes.planned_touchdown_ft + one.causes.unexplained_ft;
  for (const auto& other : one.causes.causes) sum += other.effect_ft;
  EXPECT_NEAR(sum, one.touchdown->along_ft, 1.0);
}

/// The searched cue of a plan is not the one with which nothing needs answering; what its rules did on the
/// planned approach belongs to the plan.
TEST(Debrief, ASavedPlanIsFlownWithItsOwnRules) {
  const Scene scene;
  PlanRequest request;
  request.airplane = scene.airplane;
  request.conditions = scene.conditions;
  request.technique = taught_technique(scene.airplane, scene.conditions.weight_lb, 0.0);
  const double cue_s = scene.planned_cue_s - 1.5;
  const Approach nominal = fly_nominal_with_rules(request, cue_s, Trace::none);
  ASSERT_TRUE(nominal.touchdown);
  const auto flown = test::log_of(scene.airplane, scene.conditions, scene.technique, scene.frame, 6);
  DebriefRequest asked = scene.request(flown.log);
  asked.plan = SavedPlan{scene.conditions.wind, request.technique, cue_s, "for the test"};
  const auto answer = make_debrief(asked);
  ASSERT_TRUE(answer.debrief) << answer.reason;
  EXPECT_NEAR(answer.debrief->attempts.front().causes.planned_touchdown_ft, nominal.touchdown->along_ft,
              60.0);
}

TEST(Debrief, WithoutAReportedWindItOffersNoCausesAndSaysWhy) {
  const Scene scene;
  const auto flown = test::log_of(scene.airplane, scene.conditions, scene.technique, scene.frame, 4);
  auto request = scene.request(flown.log);
  request.reported_wind.reset();
  const auto answer = make_debrief(request);
  ASSERT_TRUE(answer.debrief);
  const auto& one = answer.debrief->attempts.front();
  EXPECT_TRUE(one.causes.causes.empty());
  EXPECT_NE(one.causes.not_offered_because.find("wind"), std::string::npos);
  EXPECT_TRUE(one.touchdown);
}

TEST(Debrief, MirroredPatternAndWindTouchDownAtTheSamePlace) {
  const Scene scene;
  auto mirrored = scene;
  mirrored.conditions.wind.at_10m.from_true = Degrees{230.0};
  mirrored.conditions.traffic = Traffic::right;
  const auto left = test::log_of(scene.airplane, scene.conditions, scene.technique, scene.frame, 5);
  const auto right = test::log_of(mirrored.airplane, mirrored.conditions, scene.technique, scene.frame, 5);
  const auto a = make_debrief(scene.request(left.log)), b = make_debrief(mirrored.request(right.log));
  ASSERT_TRUE(a.debrief && b.debrief);
  const auto &one = a.debrief->attempts.front(), &other = b.debrief->attempts.front();
  EXPECT_EQ(other.attempt.traffic, Traffic::right);
  // The same noise falls on unmirrored axes, so the logs differ by a foot or two a fix.
  EXPECT_NEAR(one.touchdown->along_ft, other.touchdown->along_ft, 40.0);
}

TEST(Debrief, SaysWhyThereIsNone) {
  const Scene scene;
  EXPECT_NE(make_debrief(scene.request({})).reason.find("no positions"), std::string::npos);

  const auto flown = test::log_of(scene.airplane, scene.conditions, scene.technique, scene.frame, 6);
  auto far = scene.request(flown.log);
  far.runway->threshold = {10.0, 10.0};
  EXPECT_NE(make_debrief(far).reason.find("within 5 NM"), std::string::npos);

  auto downwind_only = flown.log;
  downwind_only.fixes.resize(20);
  const auto answer = make_debrief(scene.request(downwind_only));
  EXPECT_FALSE(answer.debrief);
  EXPECT_FALSE(answer.reason.empty());
}

}  // namespace
}  // namespace glidewright

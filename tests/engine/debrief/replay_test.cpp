#include "engine/debrief/replay.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>

#include "engine/debrief/flown_band.hpp"
#include "engine/plan/taught.hpp"
#include "tests/engine/airplane/trainer_handbook.hpp"
#include "tests/engine/debrief/flown_log.hpp"

namespace glidewright {
namespace {

TrackState flying(double along_fps, double cross_fps) {
  TrackState state;
  state.along_ft = -2000.0;
  state.cross_ft = -3000.0;
  state.height_ft = 800.0;
  state.along_fps = along_fps;
  state.cross_fps = cross_fps;
  state.climb_fps = -12.0;
  return state;
}

TEST(LookAhead, WithoutATurnIsVelocityTimesTime) {
  const LookAhead ahead = look_ahead(flying(-110.0, 5.0));
  EXPECT_NEAR(ahead.along_ft, -2000.0 - 110.0 * 20.0, 1e-9);
  EXPECT_NEAR(ahead.cross_ft, -3000.0 + 5.0 * 20.0, 1e-9);
  EXPECT_NEAR(ahead.height_ft, 800.0 - 12.0 * 20.0, 1e-9);
  EXPECT_NEAR(ahead.covered_ft, 20.0 * std::hypot(110.0, 5.0), 1e-9);
}

/// Downwind is against along with the runway on the left: a quarter circle to the left ends square to it.
TEST(LookAhead, InASteadyTurnIsOnTheCircle) {
  TrackState state = flying(-100.0, 0.0);
  const double rate_rad_s = -0.5 * std::numbers::pi / 20.0;  // to the left
  const double radius_ft = 100.0 / std::abs(rate_rad_s);
  // Centripetal, square to the velocity: from (-v, 0) turning left is towards cross positive.
  state.cross_fps2 = 100.0 * std::abs(rate_rad_s);
  const LookAhead ahead = look_ahead(state);
  EXPECT_NEAR(ahead.along_ft, -2000.0 - radius_ft, 1e-6);
  EXPECT_NEAR(ahead.cross_ft, -3000.0 + radius_ft, 1e-6);
  EXPECT_NEAR(ahead.covered_ft, 2000.0, 1e-9);
}

TEST(LookAhead, EndsOnTheGroundAndNotBelowIt) {
  TrackState state = flying(100.0, 0.0);
  state.height_ft = 150.0;
  EXPECT_EQ(look_ahead(state).height_ft, 0.0);
}

/// One approach flown by the engine, logged once a second and debriefed.
struct Played {
  Airplane airplane = fit_airplane(trainer_handbook());
  Runway field{.airfield = "Nowhere (invented)",
               .designator = "24",
               .threshold = {54.5, 2.5},
               .true_bearing = {240.0},
               .elevation = {80.0},
               .length = {4500.0}};
  std::optional<Debrief> debrief;
  Approach flown;

  explicit Played(Traffic traffic = Traffic::left) {
    Conditions conditions;
    conditions.wind.at_10m = {Degrees{traffic == Traffic::left ? 250.0 : 230.0}, Knots{10.0}};
    conditions.density_ratio = 0.985;
    conditions.weight_lb = 2208.0;
    conditions.runway_true_deg = 240.0;
    conditions.traffic = traffic;
    Technique technique = without_rules(taught_technique(airplane, conditions.weight_lb, 0.0));
    technique.base_turn_s_after_abeam = 12.0;
    const auto logged = test::log_of(airplane, conditions, technique, RunwayFrame{field, Feet{1000.0}}, 7);
    flown = logged.approach;
    DebriefRequest asked;
    asked.log = logged.log;
    asked.runway = field;
    asked.touchdown_point = Feet{1000.0};
    asked.airplane = airplane;
    asked.reported_wind = conditions.wind;
    asked.weight_lb = conditions.weight_lb;
    debrief = make_debrief(asked).debrief;
    add_bands(*debrief, airplane);
  }
  Replay replay() const { return replay_of(debrief->attempts.at(0), *debrief); }
};

const ReplayMoment& at(const std::vector<ReplayMoment>& path, double time_s) {
  return *std::min_element(path.begin(), path.end(), [&](const auto& a, const auto& b) {
    return std::abs(a.time_s - time_s) < std::abs(b.time_s - time_s);
  });
}

TEST(Replay, CountsTheWayToGoToTheTouchdown) {
  const Played played;
  const Replay replay = played.replay();
  const AttemptDebrief& one = played.debrief->attempts.at(0);
  EXPECT_EQ(replay.flown.front().time_s, -6.0);
  const double down_s = one.touchdown->time_unix_s - replay.zero_unix_s;
  for (std::size_t i = 1; i < replay.flown.size(); ++i) {
    const ReplayMoment &a = replay.flown[i - 1], &b = replay.flown[i];
    EXPECT_LE(b.to_go_ft, a.to_go_ft);
    EXPECT_EQ(b.to_go_ft<0.0, b.time_s> down_s) << b.time_s;
    EXPECT_EQ(b.ahead.has_value(), b.time_s < down_s) << b.time_s;
  }
  // On the runway the way is the distance along it, but for what cross wanders.
  const ReplayMoment& rolling = at(replay.flown, down_s + 5.0);
  EXPECT_NEAR(rolling.to_go_ft, one.touchdown->along_ft - rolling.along_ft, 60.0);
}

/// What was flown is known: places by more than the noise of a fix, bank by the turn as it was commanded.
TEST(Replay, IsWhatWasFlown) {
  const Played played;
  const Replay replay = played.replay();
  for (const Moment& moment : played.flown.trace) {
    if (std::abs(moment.time_s - std::round(moment.time_s)) > 0.02 || moment.time_s < 1.0) continue;
    const ReplayMoment& one = at(replay.flown, moment.time_s);
    // Abeam is found to a second, and 185 ft are flown in it; the track is smooth within some feet.
    EXPECT_LT(std::hypot(one.along_ft - moment.along_ft, one.cross_ft - moment.cross_ft), 185.0)
        << moment.time_s;
  }
  const auto steepest =
      std::min_element(replay.flown.begin(), replay.flown.end(),
                       [](const auto& a, const auto& b) { return a.bank_deg < b.bank_deg; });
  // Flown at 30 degrees; from positions once a second a turn's bank comes within some 5 degrees.
  EXPECT_NEAR(steepest->bank_deg, -30.0, 6.0);
}

TEST(Replay, WhereNothingIsChangedTheLookAheadComesTrue) {
  const Played played;
  const Replay replay = played.replay();
  // Steady on final: 25 to 40 s before the wheels are down there is no turn, and 20 s later none yet.
  const double down_s = played.debrief->attempts.at(0).touchdown->time_unix_s - replay.zero_unix_s;
  const double final_s = played.debrief->attempts.at(0).attempt.final_leg->time_unix_s - replay.zero_unix_s;
  const ReplayMoment& now = at(replay.flown, std::max(final_s + 4.0, down_s - 40.0));
  const ReplayMoment& later = at(replay.flown, now.time_s + k_look_ahead_s);
  // A tenth of the way: speed still changes by some knots, and the course by what its noise is.
  EXPECT_LT(std::hypot(now.ahead->along_ft - later.along_ft, now.ahead->cross_ft - later.cross_ft),
            0.1 * now.ahead->covered_ft);
}

TEST(Replay, HoldsTheBandOfTheSameMoment) {
  const Played played;
  const Replay replay = played.replay();
  const BandAlong& band = *played.debrief->attempts.at(0).band;
  ASSERT_GT(band.places.size(), 10U);
  std::size_t with_reach = 0;
  for (const ReplayMoment& moment : replay.flown) with_reach += moment.in_reach ? 1 : 0;
  EXPECT_EQ(with_reach, band.places.size());
  EXPECT_EQ(at(replay.flown, band.places[5].time_s).in_reach->lowest_ft, band.places[5].sure.lowest_ft);
}

TEST(Replay, MirroredIsTheMirroredReplay) {
  const Replay left = Played(Traffic::left).replay(), right = Played(Traffic::right).replay();
  ASSERT_EQ(left.planned.size(), right.planned.size());
  ASSERT_FALSE(left.planned.empty());
  for (std::size_t i = 0; i < left.planned.size(); ++i) {
    // The plans are made for what was read from two logs with unlike noise: some feet of spacing and height.
    EXPECT_NEAR(left.planned[i].cross_ft, -right.planned[i].cross_ft, 60.0);
    EXPECT_LE(left.planned[i].cross_ft, 60.0);
  }
}

}  // namespace
}  // namespace glidewright

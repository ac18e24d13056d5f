#include "engine/debrief/marks.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <string>

#include "engine/debrief/debrief.hpp"
#include "tests/engine/airplane/trainer_handbook.hpp"
#include "tests/engine/debrief/reference_landing.hpp"
#include "tests/where.hpp"

namespace glidewright {
namespace {

using ::testing::HasSubstr;
using ::testing::IsEmpty;

Touchdown from_log(double along_ft, double half_width_ft) {
  Touchdown touchdown;
  touchdown.time_unix_s = 1e9;
  touchdown.time_sd_s = 2.0;
  touchdown.along_ft = along_ft;
  touchdown.low95_ft = along_ft - half_width_ft;
  touchdown.high95_ft = along_ft + half_width_ft;
  touchdown.groundspeed_kt = 60.0;
  return touchdown;
}

TEST(TouchdownSeen, IsANormalDistributionAboutTheSeenPlace) {
  const Touchdown seen = touchdown_seen({120.0, 25.0}, from_log(300.0, 200.0), {});
  EXPECT_EQ(seen.along_ft, 120.0);
  EXPECT_NEAR(seen.low95_ft, 120.0 - 49.0, 1e-9);
  double sum = 0.0;
  for (const auto& place : seen.distribution) sum += place.weight;
  EXPECT_NEAR(sum, 1.0, 1e-9);
  // Normal table: 0.6827 within one standard deviation; cells of a fifteenth of it.
  EXPECT_NEAR(seen.probability_between(95.0, 145.0), 0.6827, 0.02);
  EXPECT_EQ(seen.groundspeed_kt, 60.0);
}

TEST(TouchdownSeen, MovesTheMomentByTheGroundspeed) {
  const Touchdown seen = touchdown_seen({100.0, 25.0}, from_log(302.5, 300.0), {});
  EXPECT_NEAR(seen.time_unix_s, 1e9 - 2.0, 0.01);  // 202.5 ft at 60 kt, 101.27 ft/s
}

TEST(TouchdownSeen, SaysWhenEyeAndLogExcludeEachOther) {
  EXPECT_THAT(disagreement({120.0, 25.0}, from_log(300.0, 200.0)), IsEmpty());
  EXPECT_THAT(disagreement({-600.0, 25.0}, from_log(300.0, 200.0)), HasSubstr("Seen at -600 ft"));
}

MarkedMoment at_s(double time_unix_s) {
  MarkedMoment moment;
  moment.time_unix_s = time_unix_s;
  return moment;
}

TEST(SlipMarked, SeveralTogetherAreAsLongAsTheirHeights) {
  SmoothTrack track;  // sinks 10 ft each second
  for (int i = 0; i <= 60; ++i) {
    TrackState state;
    state.time_unix_s = 1e9 + i;
    state.height_ft = 600.0 - 10.0 * i;
    state.climb_fps = -10.0;
    track.states.push_back(state);
  }
  const auto slip =
      slip_as_marked({{at_s(1e9 + 10), at_s(1e9 + 15)}, {at_s(1e9 + 20), at_s(1e9 + 28)}}, {}, track);
  ASSERT_TRUE(slip);
  EXPECT_NEAR(slip->in_height_ft, 500.0, 1e-6);
  EXPECT_NEAR(slip->out_height_ft, 500.0 - 50.0 - 80.0, 1e-6);
  EXPECT_FALSE(slip_as_marked({}, {}, track));
}

TEST(RunwaySeen, ABadlyKnownRunwayFollowsTheEyeAndAWellKnownOneDoesNot) {
  Runway runway;
  runway.threshold = {41.3, -88.2};
  runway.true_bearing = Degrees{47.0};
  runway.length = Feet{4000.0};
  for (const double position_sd_ft : {5.0, 300.0}) {
    runway.position_sd = Feet{position_sd_ft};
    const RunwayFrame frame(runway, Feet{1000.0});
    Touchdown log = from_log(350.0, 0.0);
    log.low95_ft = 350.0 - 1.96 * std::hypot(40.0, position_sd_ft);
    log.high95_ft = 350.0 + 1.96 * std::hypot(40.0, position_sd_ft);
    const Runway moved = moved_by_what_was_seen(frame, {100.0, 20.0}, log);
    const double shift_ft = frame.to_runway(moved.threshold).along_ft + 1000.0;
    // Two normal beliefs: prior^2 / (prior^2 + 20^2 + 40^2) of the 250 ft between them.
    const double share = position_sd_ft * position_sd_ft / (position_sd_ft * position_sd_ft + 2000.0);
    EXPECT_NEAR(shift_ft, 250.0 * share, 0.5);
    EXPECT_LT(moved.position_sd.value, position_sd_ft);
  }
}

/// F20 has two landings; both were seen from the seat.
DebriefRequest request_with(const std::vector<AttemptMarks>& marks) {
  const std::filesystem::path folder = std::filesystem::path(where::test_data()) / "flights";
  for (const auto& flight : testing::reference_flights(folder)) {
    if (flight.name != "F20") continue;
    DebriefRequest request;
    request.log = flight.gpx();
    request.runway = flight.landings.front().runway;
    request.touchdown_point = flight.landings.front().point_past_threshold;
    request.airplane = fit_airplane(trainer_handbook());
    request.marks = marks;
    return request;
  }
  ADD_FAILURE() << "F20 is missing";
  return {};
}

AttemptMarks seen(int attempt, double along_ft) {
  AttemptMarks marks;
  marks.attempt = attempt;
  marks.touchdown_seen = SeenPlace{along_ft};
  return marks;
}

TEST(MarkedDebrief, WhatWasSeenStandsAndTheLogsOwnStaysBeside) {
  const auto plain = make_debrief(request_with({}));
  const auto marked = make_debrief(request_with({seen(2, 109.0)}));  // truth.json: +109 ft
  ASSERT_TRUE(plain.debrief && marked.debrief) << plain.reason << marked.reason;
  const AttemptDebrief& before = plain.debrief->attempts.at(1);
  const AttemptDebrief& after = marked.debrief->attempts.at(1);
  EXPECT_EQ(after.touchdown->along_ft, 109.0);
  EXPECT_EQ(after.touchdown_from_log->along_ft, before.touchdown->along_ft);
  EXPECT_FALSE(before.touchdown_from_log);
  EXPECT_FALSE(marked.debrief->attempts.at(0).marks);
}

TEST(MarkedDebrief, AMomentLeavesOnlyThePlaceToFind) {
  AttemptMarks marks;
  marks.attempt = 1;
  // truth.json of F20: first landing at 04:15:55.100, +30.8 ft. The log is stamped up to 0.4 s off (40 ft).
  marks.touchdown_at = MarkedTouchdown{{testing::unix_time("2026-07-07T04:15:55.100Z"), 0.0}, 0.1};
  const auto answer = make_debrief(request_with({marks}));
  ASSERT_TRUE(answer.debrief) << answer.reason;
  const Touchdown& touchdown = *answer.debrief->attempts.at(0).touchdown;
  EXPECT_NEAR(touchdown.along_ft, 30.8, 60.0);
  EXPECT_LT(touchdown.high95_ft - touchdown.low95_ft, 80.0);
  EXPECT_THAT(touchdown.basis, HasSubstr("marked moment"));
}

TEST(MarkedDebrief, OneSeenTouchdownZeroesARunwayThatIsBadlyKnown) {
  DebriefRequest request = request_with({seen(1, 31.0)});
  const RunwayFrame frame(*request.runway, request.touchdown_point);
  Runway shifted = *request.runway;
  shifted.threshold = frame.to_geodetic({frame.threshold_along_ft() + 400.0, 0.0});
  shifted.position_sd = Feet{300.0};
  request.runway = shifted;
  const auto answer = make_debrief(request);
  ASSERT_TRUE(answer.debrief) << answer.reason;
  const double left_ft = answer.debrief->frame.to_runway(shifted.threshold).along_ft -
                         answer.debrief->frame.threshold_along_ft();
  EXPECT_NEAR(left_ft, 400.0, 200.0);  // the log's own two standard deviations
  // The second landing, which nobody marked, is now where it was: truth.json +109 ft.
  const Touchdown& second = *answer.debrief->attempts.at(1).touchdown;
  EXPECT_LE(second.low95_ft, 109.0);
  EXPECT_GE(second.high95_ft, 109.0);
}

TEST(MarkedDebrief, AMarkForNoAttemptIsAnError) {
  const auto answer = make_debrief(request_with({seen(7, 0.0)}));
  EXPECT_FALSE(answer.debrief);
  EXPECT_THAT(answer.reason, HasSubstr("attempt 7 is marked, but the log has attempts 1 to 2"));
}

TEST(MarkedDebrief, FlapsAreTakenAtTheHeightWhereTheyWereMarked) {
  AttemptMarks marks;
  marks.attempt = 2;
  marks.flaps = std::vector<MarkedFlap>{{10.0, {{}, 20.0}}, {30.0, {{}, 50.0}}};
  const auto answer = make_debrief(request_with({}));
  ASSERT_TRUE(answer.debrief) << answer.reason;
  const auto& attempt = answer.debrief->attempts.at(1).attempt;
  ASSERT_TRUE(attempt.abeam);
  const auto steps = flaps_as_marked(*marks.flaps, attempt, answer.debrief->track);
  ASSERT_EQ(steps.size(), 2u);
  EXPECT_EQ(steps[0].setting_deg, 10.0);
  EXPECT_NEAR(steps[0].height_ft, answer.debrief->track.at(attempt.abeam->time_unix_s + 20.0).height_ft,
              1e-9);
  EXPECT_LT(steps[1].height_ft, steps[0].height_ft);
}

}  // namespace
}  // namespace glidewright

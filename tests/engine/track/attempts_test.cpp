#include "engine/track/attempts.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "engine/track/smooth.hpp"
#include "tests/engine/track/reference_flight.hpp"

namespace glidewright {
namespace {

using nlohmann::json;
using reference::Flight;
using reference::read;
using reference::Recording;
using reference::recordings;

constexpr Feet k_antenna{4.1};  // reference flights: the recorded point, parked, above the ground

std::vector<Attempt> attempts_in(const TrackLog& log, const Flight& flight) {
  return find_attempts(smooth(log, flight.frame(), k_antenna), log, flight.frame());
}

Outcome outcome_of(const json& attempt) {
  if (attempt["outcome"] == "go-around") return Outcome::go_around;
  if (attempt["after"] == "touch-and-go") return Outcome::touch_and_go;
  if (attempt["after"] == "stop-and-go") return Outcome::stop_and_go;
  return Outcome::landed;
}

class EveryRecording : public testing::TestWithParam<Recording> {};

TEST_P(EveryRecording, ShowsTheAttemptsThatWereFlownAndNoOthers) {
  const Flight flight = reference::read_flight(GetParam().flight);
  const auto found = attempts_in(read(GetParam()), flight);
  const json& flown = flight.truth["attempts"];
  ASSERT_EQ(found.size(), flown.size());
  for (std::size_t i = 0; i < found.size(); ++i) {
    EXPECT_EQ(found[i].index, static_cast<int>(i) + 1);
    EXPECT_EQ(found[i].outcome, outcome_of(flown[i]));
    EXPECT_EQ(found[i].traffic, flight.truth["traffic_side"] == "left" ? Traffic::left : Traffic::right);
    // 1 ft of energy height for 9 ft of air at idle, 14 with the power these two carried.
    EXPECT_EQ(found[i].kind,
              flown[i]["kind"] == "power-off-180" ? AttemptKind::power_off : AttemptKind::power_assisted);
  }
}

TEST_P(EveryRecording, PlacesTheKeyPoints) {
  const Flight flight = reference::read_flight(GetParam().flight);
  const auto found = attempts_in(read(GetParam()), flight);
  const json& flown = flight.truth["attempts"];
  ASSERT_EQ(found.size(), flown.size());
  for (std::size_t i = 0; i < found.size(); ++i) {
    const auto off_s = [&](const std::optional<KeyPoint>& point, const char* name) {
      if (!point) return 1e9;
      return std::abs(point->time_unix_s - flight.start_unix_s() - flown[i][name]["t_s"].get<double>());
    };
    // The fix may be stamped 0.4 s off, and 5 s pass between fixes in the slowest recording.
    EXPECT_LT(off_s(found[i].abeam, "abeam"), 0.6);
    EXPECT_LT(off_s(found[i].base_turn, "base_turn_start"), 3.0);
    EXPECT_LT(off_s(found[i].base, "wings_level_base"), 3.0);
    EXPECT_LT(off_s(found[i].final_turn, "final_turn_start"), 3.0);
    EXPECT_LT(off_s(found[i].final_leg, "wings_level_final"), 3.0);
    if (!flown[i]["gate_200ft"].is_null()) {
      ASSERT_TRUE(found[i].gate);
      // Two standard deviations of a receiver's height over a minute, 14 ft, on a 9 to 1 path.
      EXPECT_NEAR(found[i].gate->place.along_ft, flown[i]["gate_200ft"]["along_ft"].get<double>(), 130.0);
    }
    if (flown[i]["outcome"] == "landed") {
      EXPECT_NEAR(found[i].landing_time_unix_s.value_or(0.0) - flight.start_unix_s(),
                  flown[i]["touchdown"]["t_s"].get<double>(), 25.0);
    } else {
      ASSERT_TRUE(found[i].go_around);
      EXPECT_NEAR(found[i].go_around->height_ft, flown[i]["go_around"]["lowest_height_agl_ft"].get<double>(),
                  25.0);
    }
  }
}

INSTANTIATE_TEST_SUITE_P(ReferenceFlights, EveryRecording, testing::ValuesIn(recordings()),
                         [](const auto& recording) {
                           std::string name = recording.param.file;
                           std::replace(name.begin(), name.end(), '.', '_');
                           return name;
                         });

TEST(Attempts, BankIntervalsHoldTheTruth) {
  double held = 0.0, all = 0.0;
  for (const Recording& recording : recordings()) {
    const Flight flight = reference::read_flight(recording.flight);
    const auto found = attempts_in(read(recording), flight);
    const json& flown = flight.truth["attempts"];
    for (std::size_t i = 0; i < std::min(found.size(), flown.size()); ++i) {
      const auto count = [&](const std::optional<BankEstimate>& bank, const char* name) {
        if (flown[i][name].is_null()) return;
        const double truth = flown[i][name];
        all += 1.0;
        held += bank && truth >= bank->low95_deg && truth <= bank->high95_deg ? 1.0 : 0.0;
      };
      count(found[i].base_turn_bank, "max_bank_base_turn_deg");
      count(found[i].final_turn_bank, "max_bank_final_turn_deg");
    }
  }
  EXPECT_GE(held / all, 0.90);  // 95 % claimed, of about 60 turns that share flights
}

TEST(Attempts, PanelDecidesIdleAndKind) {
  for (const char* name : {"F02", "F08", "F18", "F20"}) {
    const Flight flight = reference::read_flight(name);
    TrackLog log = reference::read_gpx(reference::folder(name) + name + ".gpx");
    log.panel = reference::read_panel(reference::folder(name) + name + "_avionics.csv");
    const auto found = attempts_in(log, flight);
    const json& flown = flight.truth["attempts"];
    ASSERT_EQ(found.size(), flown.size()) << name;
    for (std::size_t i = 0; i < found.size(); ++i) {
      if (flown[i]["kind"] != "power-off-180") {
        EXPECT_EQ(found[i].kind, AttemptKind::power_assisted);
        continue;
      }
      EXPECT_EQ(found[i].kind, AttemptKind::power_off);
      ASSERT_TRUE(found[i].idle);
      // Rows are a second apart, and rpm follows the lever by up to a second.
      EXPECT_NEAR(found[i].idle->time_unix_s - flight.start_unix_s(),
                  flown[i]["throttle_idle"]["t_s"].get<double>(), 1.5)
          << name;
      EXPECT_NEAR(found[i].base_turn->time_unix_s - flight.start_unix_s(),
                  flown[i]["base_turn_start"]["t_s"].get<double>(), 0.5)
          << name;
    }
  }
}

TEST(Attempts, NothingInALogWithNothing) {
  const Flight flight = reference::read_flight("F02");
  EXPECT_TRUE(attempts_in({}, flight).empty());
  TrackLog one;
  Fix fix;
  fix.time_unix_s = 1e9;
  fix.place = flight.runway.threshold;
  one.fixes.push_back(fix);
  EXPECT_TRUE(attempts_in(one, flight).empty());
  TrackLog parked;
  for (int i = 0; i < 500; ++i) {
    fix.time_unix_s += 1.0;
    fix.altitude_ft = flight.runway.elevation.value;
    parked.fixes.push_back(fix);
  }
  EXPECT_TRUE(attempts_in(parked, flight).empty());
}

TEST(Attempts, NothingForARunwayFarAway) {
  const Flight flight = reference::read_flight("F22");
  const Flight elsewhere = reference::read_flight("F12");
  const TrackLog log = reference::read_gpx(reference::folder("F22") + "F22.gpx");
  EXPECT_TRUE(attempts_in(log, elsewhere).empty());
}

TEST(Attempts, AnyCutOfALogIsSurvivedAndNeverAddsAttempts) {
  const Flight flight = reference::read_flight("F22");
  const TrackLog whole = reference::read_gpx(reference::folder("F22") + "F22.gpx");
  for (std::size_t cut = 0; cut < whole.fixes.size(); cut += 7) {
    TrackLog head = whole, tail = whole;
    head.fixes.resize(cut);
    tail.fixes.erase(tail.fixes.begin(), tail.fixes.begin() + static_cast<std::ptrdiff_t>(cut));
    EXPECT_LE(attempts_in(head, flight).size(), 3u) << cut;
    EXPECT_LE(attempts_in(tail, flight).size(), 3u) << cut;
  }
}

TEST(Attempts, MirroredTrackGivesMirroredResult) {
  const Flight flight = reference::read_flight("F22");
  const RunwayFrame frame = flight.frame();
  TrackLog log = reference::read_gpx(reference::folder("F22") + "F22.gpx");
  const auto found = attempts_in(log, flight);
  for (Fix& fix : log.fixes) {
    RunwayPoint place = frame.to_runway(fix.place);
    place.cross_ft = -place.cross_ft;
    fix.place = frame.to_geodetic(place);
  }
  const auto mirrored = attempts_in(log, flight);
  ASSERT_EQ(found.size(), mirrored.size());
  for (std::size_t i = 0; i < found.size(); ++i) {
    EXPECT_EQ(found[i].outcome, mirrored[i].outcome);
    EXPECT_EQ(found[i].kind, mirrored[i].kind);
    EXPECT_NE(found[i].traffic, mirrored[i].traffic);
    // Only rounding: places pass through degrees, 1e-9 of them are 4e-4 ft.
    EXPECT_NEAR(found[i].base_turn->time_unix_s, mirrored[i].base_turn->time_unix_s, 0.01);
    EXPECT_NEAR(found[i].base_turn->place.cross_ft, -mirrored[i].base_turn->place.cross_ft, 1.0);
    EXPECT_NEAR(found[i].gate->place.along_ft, mirrored[i].gate->place.along_ft, 1.0);
    EXPECT_NEAR(found[i].final_turn_bank->bank_deg, mirrored[i].final_turn_bank->bank_deg, 0.1);
  }
}

}  // namespace
}  // namespace glidewright

// Desk flights from the command line: hands in, a log out that is debriefed like any other and counted
// nowhere.

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <nlohmann/json.hpp>

#include "tests/apps/program.hpp"
#include "tests/apps/reference_flights.hpp"
#include "tests/apps/schema.hpp"

namespace glidewright {
namespace {

using nlohmann::json;
using ::testing::HasSubstr;

class DeskTest : public ::testing::Test {
 protected:
  ProgramRun desk(std::vector<std::string> more, const std::string& hands) const {
    std::vector<std::string> words = {"desk",       "--runway",     "data/demo/harrow-fen-24.json",
                                      "--airplane", "demo-trainer", "--wind",
                                      "calm",       "--hands",      hands};
    words.insert(words.end(), more.begin(), more.end());
    return run_program(words);
  }
  json flown(const std::vector<std::string>& more = {},
             const std::string& hands = "data/demo/hands.json") const {
    auto words = more;
    words.emplace_back("--json");
    const auto run = desk(words, hands);
    EXPECT_EQ(run.exit_code, 0) << run.errors;
    const json object = json::parse(run.output);
    EXPECT_EQ(objections("desk", object), "");
    return object;
  }
  std::string log() const { return folder.path() + "/desk.csv"; }

  TemporaryFolder folder;
};

TEST_F(DeskTest, TheHandsOfTheDemonstrationLandOnTheRunway) {
  EXPECT_EQ(objections("hands", json::parse(bytes_of(k_clone / "data/demo/hands.json"))), "");
  const json object = flown();
  EXPECT_EQ(object.at("end"), "landed");
  EXPECT_EQ(object.at("phase"), "down");
  EXPECT_EQ(object.at("way").back().at("along_ft"),
            std::round(object.at("touchdown").at("along_ft").get<double>()));
  EXPECT_EQ(flown(), object) << "the same hands";
}

TEST_F(DeskTest, WithoutHandsItWaitsOnDownwind) {
  const auto run = run_program({"desk", "--runway", "data/demo/harrow-fen-24.json", "--airplane",
                                "demo-trainer", "--wind", "250/11", "--json"});
  ASSERT_EQ(run.exit_code, 0) << run.errors;
  const json object = json::parse(run.output);
  EXPECT_EQ(objections("desk", object), "");
  EXPECT_EQ(object.at("end"), "under-way");
  EXPECT_EQ(object.at("now").at("time_s"), -15.0);
}

/// What the model flew is what the debrief finds; its own touchdown is told as seen, as the page does.
TEST_F(DeskTest, ItsLogIsDebriefedLikeAnyOther) {
  const json object = flown({"--log", log()});
  const double along_ft = object.at("touchdown").at("along_ft");
  const auto run =
      run_program({"debrief", log(), "--runway", "data/demo/harrow-fen-24.json", "--airplane", "demo-trainer",
                   "--wind", "calm", "--touchdown-seen", fmt::format("1:{:+.0f}", along_ft), "--json"});
  ASSERT_EQ(run.exit_code, 0) << run.errors;
  const json debrief = json::parse(run.output);
  EXPECT_THAT(debrief.at("log").at("quality").at("notes").dump(), HasSubstr("desk flight"));
  ASSERT_EQ(debrief.at("attempts").size(), 1U);
  const json& attempt = debrief.at("attempts").at(0);
  EXPECT_EQ(attempt.at("kind"), "power-off");
  EXPECT_EQ(attempt.at("traffic"), "left");
  // The turn's begin is found within 0.5 s, one standard deviation; three of them.
  const double turned_s = 185 * 0.2 - 15.0;
  EXPECT_NEAR(attempt.at("base_turn").at("seconds_past_abeam").get<double>(), turned_s, 1.5);
  EXPECT_EQ(attempt.at("outcome"), "landed");
  EXPECT_TRUE(attempt.at("touchdown").at("along_ft").get<double>() == std::round(along_ft))
      << "as it was told";
}

TEST_F(DeskTest, NobodyCountsIt) {
  flown({"--log", log()});
  const std::string records = folder.path() + "/records";
  const auto filed =
      run_program({"record", "file", log(), "--student", "Demo Student", "--add-student", "--by",
                   "Demo Instructor", "--runway", "data/demo/harrow-fen-24.json", "--records", records});
  EXPECT_EQ(filed.exit_code, 1);
  EXPECT_THAT(filed.errors, HasSubstr("a desk flight"));
  const auto ready = run_program({"readiness", log(), "--runway", "data/demo/harrow-fen-24.json"});
  EXPECT_EQ(ready.exit_code, 1);
  EXPECT_THAT(ready.errors, HasSubstr("a desk flight"));
  const auto converted = run_program({"convert", log(), "--to", folder.path() + "/no-mark.gpx"});
  EXPECT_EQ(converted.exit_code, 1);
}

TEST_F(DeskTest, SaysWhatIsWrongWithTheHands) {
  const std::string odd = folder.with("odd.json", R"({"holds": [{"ticks": 0, "bank_deg": 0,
"airspeed_kcas": 70, "flap_deg": 0}]})");
  EXPECT_THAT(desk({}, odd).errors, HasSubstr("odd.json:1: ticks 0"));
  const std::string unknown = folder.with("unknown.json", R"({"holds": [{"ticks": 1, "bank_deg": 0,
"airspeed_kcas": 70, "flaps_deg": 0}]})");
  EXPECT_EQ(desk({}, unknown).exit_code, 1);
  EXPECT_EQ(desk({}, folder.path() + "/none.json").exit_code, 1);
}

}  // namespace
}  // namespace glidewright

// The plan while a hand still moves: first its picture, then its odds.

#include <gtest/gtest.h>

#include <string>
#include <vector>

#include "tests/apps/program.hpp"
#include "tests/apps/schema.hpp"

namespace glidewright {
namespace {

using nlohmann::json;

ProgramRun quick_brief(const std::vector<std::string>& more) {
  std::vector<std::string> arguments = {"brief",      "--runway",     "data/demo/harrow-fen-24.json",
                                        "--airplane", "demo-trainer", "--wind",
                                        "230/12",     "--quick",      "--json"};
  arguments.insert(arguments.end(), more.begin(), more.end());
  return run_program(arguments);
}

TEST(QuickBrief, WithoutOddsIsTheSamePicture) {
  const auto picture_run = quick_brief({"--no-odds"});
  ASSERT_EQ(picture_run.exit_code, 0) << picture_run.errors;
  const json picture = json::parse(picture_run.output), whole = json::parse(quick_brief({}).output);
  EXPECT_EQ(objections("brief", picture), "");
  for (const char* key : {"cue", "technique", "flaps", "speeds", "looking_spot_ft", "gate_altimeter_ft",
                          "planned_touchdown_ft", "band", "slip_rule", "refusals", "cautions", "assumed"})
    EXPECT_EQ(picture.at(key), whole.at(key)) << key;
  EXPECT_TRUE(picture.at("success").is_null());
  EXPECT_TRUE(picture.at("rules").empty());
  EXPECT_TRUE(picture.at("sensitivities").empty());
  EXPECT_EQ(whole.at("success").at("flights"), 125);
  ASSERT_EQ(picture.at("key_points").size(), whole.at("key_points").size());
  for (std::size_t i = 0; i < whole.at("key_points").size(); ++i) {
    for (const char* key : {"at", "height_ft", "reach_low_ft", "reach_high_ft"})
      EXPECT_EQ(picture["key_points"][i].at(key), whole["key_points"][i].at(key)) << i << ' ' << key;
  }
}

TEST(QuickBrief, ARefusalNeedsNoOdds) {
  const auto run = quick_brief({"--no-odds", "--pattern-height-ft", "400", "--spacing-nm", "1"});
  EXPECT_EQ(run.exit_code, 1);
  const json refused = json::parse(run.output);
  EXPECT_EQ(objections("brief", refused), "");
  EXPECT_FALSE(refused.at("refusals").empty());
}

TEST(QuickBrief, OnlyTheQuickOneGoesWithoutOdds) {
  const auto run = run_program(
      {"brief", "--runway", "data/demo/harrow-fen-24.json", "--wind", "230/12", "--json", "--no-odds"});
  EXPECT_EQ(run.exit_code, 2);
  EXPECT_NE(run.errors.find("--quick"), std::string::npos) << run.errors;
}

}  // namespace
}  // namespace glidewright

#include "formats/saved_plan_json.hpp"

#include <gtest/gtest.h>

#include "formats/technique_json.hpp"
#include "tests/apps/program.hpp"
#include "tests/formats/test_files.hpp"

namespace glidewright {
namespace {

/// What `brief --json` prints in this wind.
std::string brief_in(const std::string& wind) {
  return run_program({"brief", "--runway", "data/demo/harrow-fen-24.json", "--airplane", "demo-trainer",
                      "--wind", wind, "--quick", "--json"})
      .output;
}

TEST(SavedPlan, IsReadAsItWasWritten) {
  const auto read = read_saved_plan_json(brief_in("270/10G16"), "plan.json");
  ASSERT_TRUE(read) << read.error().sentence;
  EXPECT_EQ(read->airplane_id, "demo-trainer");
  EXPECT_EQ(read->weight_lb, 2500.0);
  EXPECT_EQ(read->touchdown_point_ft, 1000.0);
  EXPECT_EQ(read->plan.wind.at_10m.speed.value, 10.0);
  EXPECT_EQ(read->plan.wind.gust.value, 6.0);
  EXPECT_EQ(read->runway.designator, "24");
  EXPECT_EQ(read->standard_id, "us-commercial-power-off-180");
  EXPECT_EQ(read->plan.cue_s, read->plan.technique.base_turn_s_after_abeam);
  EXPECT_FALSE(read->plan.technique.flaps.empty());
}

TEST(SavedPlan, KeepsTheObstaclesOfItsRunway) {
  const TemporaryFolder folder;
  const auto runway = folder.with(
      "poplars.json", replaced(bytes_of(std::filesystem::path(where::data()) / "demo" / "harrow-fen-24.json"),
                               "\"slope_percent\": 0.0",
                               R"("obstacles": [{"what": "row of poplars", "before_threshold_ft": 900,
                                  "right_of_centreline_ft": -40, "top_above_threshold_ft": 45}])"));
  const auto brief = run_program(
      {"brief", "--runway", runway, "--airplane", "demo-trainer", "--wind", "270/10", "--quick", "--json"});
  const auto read = read_saved_plan_json(brief.output, "plan.json");
  ASSERT_TRUE(read) << read.error().sentence;
  ASSERT_EQ(read->runway.obstacles.size(), 1U);
  EXPECT_EQ(read->runway.obstacles[0].what, "row of poplars");
  EXPECT_EQ(read->runway.obstacles[0].right_ft, -40.0);
}

TEST(SavedPlan, ATechniqueComesBackAsItWas) {
  Technique technique;
  technique.spacing_ft = 2500.5;
  technique.flaps = {{10.0, FlapStep::When::wings_level_base, 0.0, true},
                     {20.0, FlapStep::When::at_height, 432.5, false}};
  technique.slip = SlipStep{400.0, 120.0};
  technique.path_by_eye = technique.slip_when_high = true;
  technique.planned_touchdown_ft = 137.5;
  const auto read = read_technique_json(technique_to_json(technique).dump(), "x");
  ASSERT_TRUE(read) << read.error().sentence;
  EXPECT_EQ(technique_to_json(*read), technique_to_json(technique));
  ASSERT_EQ(read->flaps.size(), 2U);
  EXPECT_EQ(read->flaps[1].height_ft, 432.5);
  EXPECT_TRUE(read->flaps[0].only_if_high_enough);
  EXPECT_EQ(read->slip->out_height_ft, 120.0);
}

TEST(SavedPlan, SaysWhatIsWrongWithIt) {
  const auto sentence = [](const std::string& bytes) {
    const auto read = read_saved_plan_json(bytes, "plan.json");
    return read ? std::string() : read.error().sentence;
  };
  EXPECT_NE(sentence("{").find("plan.json"), std::string::npos);
  EXPECT_NE(sentence("{\"schema\": \"glidewright.debrief/1\"}").find("no saved plan"), std::string::npos);
  EXPECT_NE(sentence(brief_in("330/30")).find("offers no cue"), std::string::npos)
      << "a crosswind beyond the handbook";
  std::string old = brief_in("270/10");
  const auto at = old.find("\"technique\": {");
  ASSERT_NE(at, std::string::npos);
  old.replace(at, 11, "\"as_it_was\"");
  EXPECT_NE(sentence(old).find("kept no technique"), std::string::npos) << sentence(old);
}

}  // namespace
}  // namespace glidewright

#include "formats/runway_json.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include "engine/track/geodesy.hpp"
#include "tests/formats/test_files.hpp"
#include "tests/where.hpp"

namespace glidewright {
namespace {

using testing::HasSubstr;

std::string harrow_fen() {
  return bytes_of(std::filesystem::path(where::data()) / "demo" / "harrow-fen-24.json");
}

std::string error_of(const std::string& bytes) {
  const auto runway = read_runway_json(bytes, "f.json");
  return runway ? "read" : runway.error().sentence;
}

std::string text_error_of(std::string_view text) {
  const auto runway = read_runway_text(text);
  return runway ? "read" : runway.error().sentence;
}

TEST(RunwayJson, HarrowFenAsWritten) {
  const auto runway = read_runway_json(harrow_fen(), "harrow-fen-24.json");
  ASSERT_TRUE(runway) << runway.error().sentence;
  EXPECT_EQ(runway->airfield, "Harrow Fen (invented)");
  EXPECT_EQ(runway->designator, "24");
  EXPECT_EQ(runway->threshold.latitude_deg, 54.5012);
  EXPECT_EQ(runway->true_bearing.value, 243.0);
  EXPECT_EQ(runway->elevation.value, 82.0);
  EXPECT_EQ(runway->length.value, 4100.0);
  EXPECT_EQ(runway->position_sd.value, 5.0);
}

TEST(RunwayJson, DisplacedThresholdMovesTheLandingThreshold) {
  const auto whole =
      read_runway_json(replaced(harrow_fen(), "\"slope_percent\": 0.0", "\"slope_percent\": 1.0"), "f");
  const auto displaced = read_runway_json(
      replaced(harrow_fen(), "\"slope_percent\": 0.0", "\"slope_percent\": 1.0, \"displaced_ft\": 500"), "f");
  ASSERT_TRUE(whole && displaced);
  EXPECT_EQ(displaced->length.value, 3600.0);
  EXPECT_EQ(displaced->elevation.value, 87.0);
  const auto moved = geodesic_between(whole->threshold, displaced->threshold);
  EXPECT_NEAR(to_feet(Metres{moved.distance.value}).value, 500.0, 0.01);  // plane against ellipsoid: 1e-6
  EXPECT_NEAR(moved.azimuth_from.value, 243.0, 0.001);
}

TEST(RunwayJson, ErrorsNameLineFieldAndRange) {
  EXPECT_EQ(error_of(replaced(harrow_fen(), "243.0", "400")),
            "f.json:9: true bearing 400 deg; expected 0 to 360");
  EXPECT_EQ(error_of(replaced(harrow_fen(), "\"length_ft\": 4100,", "")),
            "f.json:1: field 'length_ft' is missing");
  EXPECT_EQ(error_of(replaced(harrow_fen(), "length_ft", "lenght_ft")),
            "f.json:1: field 'length_ft' is missing");
  EXPECT_THAT(error_of(replaced(harrow_fen(), "width_ft", "widht_ft")),
              HasSubstr("unknown field 'widht_ft'; did you mean 'width_ft'?"));
  EXPECT_THAT(error_of(replaced(harrow_fen(), "\"slope_percent\": 0.0", "\"displaced_ft\": 4000")),
              HasSubstr("leaves 100 ft to land on"));
}

std::string with_obstacles(const std::string& list) {
  return replaced(harrow_fen(), "\"slope_percent\": 0.0",
                  "\"slope_percent\": 1.0, \"displaced_ft\": 500, \"obstacles\": " + list);
}

TEST(RunwayJson, ObstaclesStayWhereTheyAreWhenThePointMoves) {
  const auto runway = read_runway_json(
      with_obstacles(R"([{"what": "wood", "before_threshold_ft": 1200, "top_above_threshold_ft": 60},
                         {"before_threshold_ft": -300, "right_of_centreline_ft": -400,
                          "top_above_threshold_ft": 90}])"),
      "f.json");
  ASSERT_TRUE(runway) << runway.error().sentence;
  ASSERT_EQ(runway->obstacles.size(), 2U);
  const auto from_threshold = RunwayFrame(*runway, Feet{0.0}).obstacles();
  const auto from_point = RunwayFrame(*runway, Feet{1000.0}).obstacles();
  EXPECT_EQ(from_point[0].what, "wood");
  EXPECT_EQ(from_threshold[0].along_ft, -1200.0);
  EXPECT_EQ(from_point[0].along_ft, -2200.0);
  EXPECT_EQ(from_point[0].height_ft, 50.0) << "the point lies 10 ft above the threshold";
  EXPECT_EQ(from_point[1].along_ft, -700.0);
  EXPECT_EQ(from_point[1].cross_ft, -400.0);
}

TEST(RunwayJson, AnObstacleWithoutItsHeightIsRefused) {
  EXPECT_THAT(error_of(with_obstacles(R"([{"before_threshold_ft": 1200}])")),
              HasSubstr("field 'top_above_threshold_ft' is missing"));
  EXPECT_THAT(error_of(with_obstacles(
                  R"([{"before_threshold_ft": 1200, "top_above_threshold_ft": 60, "hight_ft": 3}])")),
              HasSubstr("unknown field 'hight_ft'"));
  EXPECT_THAT(error_of(with_obstacles(R"({"before_threshold_ft": 1200})")), HasSubstr("obstacles"));
  std::string many = "[";
  for (int i = 0; i < 51; ++i)
    many += std::string(i > 0 ? "," : "") + R"({"before_threshold_ft": 1200, "top_above_threshold_ft": 60})";
  EXPECT_THAT(error_of(with_obstacles(many + "]")), HasSubstr("at most 50"));
}

TEST(RunwayText, FiveNumbersOfTheLandingThreshold) {
  const auto runway = read_runway_text("54.5012, 2.5107, 243, 82, 4100");
  ASSERT_TRUE(runway) << runway.error().sentence;
  EXPECT_EQ(runway->threshold.latitude_deg, 54.5012);
  EXPECT_EQ(runway->threshold.longitude_deg, 2.5107);
  EXPECT_EQ(runway->true_bearing.value, 243.0);
  EXPECT_EQ(runway->elevation.value, 82.0);
  EXPECT_EQ(runway->length.value, 4100.0);
  EXPECT_EQ(read_runway_text("0,180,360,0,3000")->threshold.longitude_deg, -180.0);
  EXPECT_EQ(read_runway_text("0,180,360,0,3000")->true_bearing.value, 0.0);
}

TEST(RunwayText, ErrorsNameTheNumber) {
  EXPECT_THAT(text_error_of("54.5,2.5,243,82"), HasSubstr("expected five numbers"));
  EXPECT_THAT(text_error_of("54.5,2.5,243,82,4100,1"), HasSubstr("expected five numbers"));
  EXPECT_THAT(text_error_of(""), HasSubstr("expected five numbers"));
  EXPECT_EQ(text_error_of("98.2,2.5,243,82,4100"), "runway latitude 98.2; expected -90 to 90");
  EXPECT_EQ(text_error_of("54.5,2.5,400,82,4100"), "runway true bearing 400; expected 0 to 360");
  EXPECT_EQ(text_error_of("54.5,2.5,243,x,4100"), "runway elevation x; expected -1500 to 20000");
  EXPECT_EQ(text_error_of("54.5,2.5,243,82,nan"), "runway length nan; expected 300 to 20000");
}

RC_GTEST_PROP(RunwayText, AnyTextIsReadOrRefused, (const std::string& text)) {
  const auto runway = read_runway_text(text);
  const bool sound = runway || !runway.error().sentence.empty();
  RC_ASSERT(sound);
}

}  // namespace
}  // namespace glidewright

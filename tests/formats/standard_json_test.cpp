#include "formats/standard_json.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <optional>

#include "tests/formats/test_files.hpp"
#include "tests/where.hpp"

namespace glidewright {
namespace {

using testing::HasSubstr;

std::filesystem::path path_of(const std::string& id) {
  return std::filesystem::path(where::data()) / "standards" / (id + ".json");
}

Standard delivered(const std::string& id) {
  auto standard = read_standard_json(bytes_of(path_of(id)), path_of(id).string());
  EXPECT_TRUE(standard) << (standard ? "" : standard.error().sentence);
  return standard ? *standard : Standard{};
}

void expect_box(const std::string& id, double low_ft, double high_ft) {
  const auto standard = delivered(id);
  ASSERT_TRUE(standard.box) << id;
  EXPECT_EQ(standard.box->low_ft, low_ft) << id;
  EXPECT_EQ(standard.box->high_ft, high_ft) << id;
}

TEST(StandardJson, DeliveredLimits) {
  expect_box("us-commercial-power-off-180", 0.0, 200.0);         // FAA-S-ACS-7B, CA.IV.M, S8
  expect_box("us-commercial-short-field", 0.0, 100.0);           // FAA-S-ACS-7B, CA.IV.F
  expect_box("us-commercial-normal", 0.0, 200.0);                // FAA-S-ACS-7B, CA.IV.B
  expect_box("ca-recreational-short-soft-field", -50.0, 200.0);  // TP 12475, exercise 18
  expect_box("ca-complex-competency", 0.0, 200.0);               // TP 13615, exercise 18
}

void expect_speed(const std::string& id, std::optional<double> over_kt, std::optional<double> under_kt) {
  const auto standard = delivered(id);
  EXPECT_EQ(standard.speed_over_kt, over_kt) << id;
  EXPECT_EQ(standard.speed_under_kt, under_kt) << id;
}

TEST(StandardJson, DeliveredSpeedLimits) {
  expect_speed("us-commercial-power-off-180", std::nullopt, std::nullopt);  // CA.IV.M names no speed limit
  expect_speed("us-commercial-short-field", 5.0, 5.0);                      // FAA-S-ACS-7B, CA.IV.F, S7
  expect_speed("us-commercial-normal", 5.0, 5.0);                           // FAA-S-ACS-7B, CA.IV.B, S7
  expect_speed("ca-recreational-normal", 10.0, 5.0);                        // TP 12475: 1.3 VSO +10/-5 kt
  expect_speed("ca-complex-competency", 10.0, 0.0);                         // TP 13615: 1.3 VSO +10/-0 kt
  expect_speed("eu-uk-approach-speed", 15.0, 5.0);  // AMC to FCL.125, FCL.235: +15/-5 kt
}

TEST(StandardJson, OnlyTheTwoPowerOffTasksAskForIdle) {
  for (const auto& path : delivered_files("standards")) {
    const std::string id = path.stem();
    EXPECT_EQ(delivered(id).power_off, id.ends_with("power-off-180")) << id;
  }
}

// A normal landing is asked for in the first third of the runway, a speed task has no touchdown limit:
// neither is a distance from a point, so neither may become a box.
TEST(StandardJson, LimitsThatAreNoDistanceFromThePointAreNoBox) {
  EXPECT_FALSE(delivered("ca-recreational-normal").box);
  EXPECT_FALSE(delivered("eu-uk-approach-speed").box);
}

// A speed that was read is graded, be there a box or not.
TEST(StandardJson, LimitsOfSpeedAloneWereSeen) {
  EXPECT_TRUE(delivered("ca-recreational-normal").limit_seen);
  EXPECT_TRUE(delivered("eu-uk-approach-speed").limit_seen);
  EXPECT_FALSE(delivered("ca-commercial-power-off-180").limit_seen);
}

/// The Canadian commercial guide has the manoeuvre, but its number was not seen; the recreational one is not
/// it.
TEST(StandardJson, UnseenLimitIsNeverGraded) {
  EXPECT_FALSE(delivered("ca-commercial-power-off-180").box);
  EXPECT_TRUE(delivered("ca-commercial-power-off-180").power_off);
}

TEST(StandardJson, AllDeliveredFilesSayHowWellTheTextIsKnown) {
  for (const auto& path : delivered_files("standards")) {
    const auto standard = read_standard_json(bytes_of(path), path.string());
    ASSERT_TRUE(standard) << standard.error().sentence;
    EXPECT_THAT(standard->source_state, HasSubstr("read in source")) << path;
    EXPECT_EQ(standard->id, path.stem()) << path;
  }
}

TEST(StandardJson, ErrorsNameTheLine) {
  const auto good = bytes_of(path_of("us-commercial-power-off-180"));
  const auto error_of = [](const std::string& bytes) {
    const auto standard = read_standard_json(bytes, "f.json");
    return standard ? std::string("read") : standard.error().sentence;
  };
  EXPECT_EQ(error_of(replaced(good, "\"high_ft\": 200", "\"high_ft\": -200")),
            "f.json:7: box from 0 to -200 ft; expected the low end first");
  EXPECT_THAT(error_of(replaced(good, "  \"box\": {\"low_ft\": 0, \"high_ft\": 200},\n", "")),
              HasSubstr("field 'box' is missing"));
  EXPECT_THAT(error_of(replaced(good, "\"source_state\": \"", "\"source_stat\": \"")),
              HasSubstr("field 'source_state' is missing"));
}

std::string house_bytes() {
  return bytes_of(std::filesystem::path(where::data()) / "demo" / "house-standard.json");
}

std::string refusal_of(const std::string& bytes) {
  const auto standard = read_standard_json(bytes, "house.json");
  return standard ? std::string("read") : standard.error().sentence;
}

TEST(StandardJson, HouseStandardSaysItsVersionAndWhoSetIt) {
  const auto house = read_standard_json(house_bytes(), "demo/house-standard.json");
  ASSERT_TRUE(house) << house.error().sentence;
  EXPECT_EQ(house->id, "house-standard");
  EXPECT_EQ(house->version, "2");
  EXPECT_EQ(house->set_by, "the chief instructor");
  EXPECT_EQ(house->edition, "");
  EXPECT_TRUE(house->limit_seen);
  ASSERT_TRUE(house->box);
  EXPECT_EQ(house->box->low_ft, -100.0);
  EXPECT_EQ(house->box->high_ft, 300.0);
}

TEST(StandardJson, HouseStandardThatContradictsItselfIsRefusedWithTheField) {
  const auto good = house_bytes();
  EXPECT_EQ(refusal_of(replaced(good, "\"high_ft\": 300", "\"high_ft\": -300")),
            "house.json:8: box from -100 to -300 ft; expected the low end first");
  EXPECT_EQ(refusal_of(replaced(good, "  \"version\": \"2\",\n", "")),
            "house.json:1: field 'version' is missing");
  EXPECT_EQ(refusal_of(replaced(good, "\"set_by\": \"the chief instructor\"", "\"set_by\": \" \"")),
            "house.json:5: field 'set_by' is empty");
  EXPECT_EQ(refusal_of(replaced(good, "{\"low_ft\": -100, \"high_ft\": 300}", "null, \"limit_seen\": true")),
            "house.json:8: limit_seen is true, but box is null and no speed is limited; expected the limit, "
            "or false");
  EXPECT_EQ(
      refusal_of(replaced(good, "\"speed_over_kt\"", "\"limit_seen\": false, \"speed_over_kt\"")),
      "house.json:9: limit_seen is false, but source_state says \"read in source\"; expected one of both");
}

TEST(StandardJson, LimitByHearsayIsKeptAndMarked) {
  auto bytes = replaced(house_bytes(), "read in source", "from memory");
  bytes = replaced(bytes, "\"speed_over_kt\"", "\"limit_seen\": false, \"speed_over_kt\"");
  const auto standard = read_standard_json(bytes, "house.json");
  ASSERT_TRUE(standard) << standard.error().sentence;
  EXPECT_TRUE(standard->box);
  EXPECT_FALSE(standard->limit_seen);
}

}  // namespace
}  // namespace glidewright

#include "formats/standard_json.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/formats/test_files.hpp"

namespace glidewright {
namespace {

using testing::HasSubstr;

std::filesystem::path path_of(const std::string& id) {
  return std::filesystem::path(GLIDEWRIGHT_DATA) / "standards" / (id + ".json");
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
  EXPECT_TRUE(delivered("us-commercial-power-off-180").power_off);
  EXPECT_FALSE(delivered("us-commercial-short-field").power_off);
  EXPECT_EQ(*delivered("us-commercial-short-field").speed_over_kt, 5.0);
  EXPECT_EQ(*delivered("ca-complex-competency").speed_under_kt, 0.0);  // 1.3 VSO +10/-0 kt
  EXPECT_EQ(*delivered("eu-uk-approach-speed").speed_over_kt, 15.0);   // AMC to FCL.125, FCL.235: +15/-5 kt
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

}  // namespace
}  // namespace glidewright

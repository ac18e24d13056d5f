#include "formats/technique_json.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cstring>
#include <iterator>

#include "formats/file.hpp"
#include "tests/where.hpp"

namespace glidewright {
namespace {

using testing::HasSubstr;

std::string error_of(std::string_view bytes) {
  const auto technique = read_technique_json(bytes, "t.json");
  return technique ? "read" : technique.error().sentence;
}

TEST(TechniqueJson, WhatIsLeftOutKeepsItsDefault) {
  const Technique defaults;
  const auto technique = read_technique_json("{\"final_speed_kt\": 62}", "t.json");
  ASSERT_TRUE(technique);
  EXPECT_EQ(technique->final_speed_kt, 62.0);
  EXPECT_EQ(technique->base_speed_kt, defaults.base_speed_kt);
  EXPECT_EQ(technique->go_around_when_unstable, defaults.go_around_when_unstable);
  EXPECT_FALSE(technique->slip);
}

TEST(TechniqueJson, FlapsAndSlip) {
  const auto technique = read_technique_json(
      R"({"flaps": [{"setting_deg": 10, "when": "wings-level-base", "only_if_high_enough": true},
                    {"setting_deg": 30, "when": "at-height", "height_ft": 400}],
          "slip": {"in_height_ft": 350, "out_height_ft": 120}})",
      "t.json");
  ASSERT_TRUE(technique) << technique.error().sentence;
  ASSERT_EQ(technique->flaps.size(), 2u);
  EXPECT_TRUE(technique->flaps[0].only_if_high_enough);
  EXPECT_EQ(technique->flaps[1].when, FlapStep::When::at_height);
  EXPECT_EQ(technique->flaps[1].height_ft, 400.0);
  EXPECT_EQ(technique->slip->in_height_ft, 350.0);
  EXPECT_EQ(technique->slip->out_height_ft, 120.0);
}

TEST(TechniqueJson, ErrorsNameTheField) {
  EXPECT_EQ(error_of("{\"final_speed_kt\": 620}"), "t.json:1: final speed 620 kt; expected 30 to 150");
  EXPECT_THAT(error_of("{\"final_sped_kt\": 62}"), HasSubstr("did you mean 'final_speed_kt'?"));
  EXPECT_THAT(error_of("{\"flaps\": [{\"setting_deg\": 10, \"when\": \"soon\"}]}"),
              HasSubstr("flaps when 'soon'"));
  EXPECT_THAT(error_of("{\"flaps\": [{\"setting_deg\": 10, \"when\": \"at-height\"}]}"),
              HasSubstr("field 'height_ft' is missing"));
  EXPECT_THAT(error_of("{\"slip\": {\"in_height_ft\": 100, \"out_height_ft\": 100}}"),
              HasSubstr("expected to begin higher"));
}

TEST(ScatterJson, FieldsAndDefaults) {
  const auto scatter = read_scatter_json("{\"cue_s\": 2.5}", "s.json");
  ASSERT_TRUE(scatter);
  EXPECT_EQ(scatter->cue_s, 2.5);
  EXPECT_EQ(scatter->speed_kt, Scatter{}.speed_kt);
  EXPECT_EQ(read_scatter_json("{\"cue_s\": -1}", "s.json").error().sentence,
            "s.json:1: cue -1 s; expected 0 to 20");
  Scatter fitted;
  fitted.glide_relative = 0.02;
  EXPECT_EQ(read_scatter_json("{\"cue_s\": 2.5}", "s.json", fitted)->glide_relative, 0.02);
}

TEST(ScatterJson, TheUsualOneOfTheShelfIsWhatIsTakenWithoutAFile) {
  const std::string path = where::data() + "/scatter/usual.json";
  const auto bytes = read_file(path);
  ASSERT_TRUE(bytes);
  // Every field of it is other than here, so that one left out would show.
  Scatter other;
  double values[sizeof(Scatter) / sizeof(double)];
  std::fill(std::begin(values), std::end(values), 0.125);
  std::memcpy(&other, values, sizeof other);
  const auto usual = read_scatter_json(*bytes, path, other);
  ASSERT_TRUE(usual) << usual.error().sentence;
  const Scatter taken;
  EXPECT_EQ(std::memcmp(&*usual, &taken, sizeof taken), 0);
}

}  // namespace
}  // namespace glidewright

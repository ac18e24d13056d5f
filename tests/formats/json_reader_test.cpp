#include "formats/json_reader.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

namespace glidewright {
namespace {

using testing::HasSubstr;
using testing::StartsWith;

std::string error_of(std::string_view bytes) {
  const auto node = parse_json(bytes, "f.json");
  return node ? "read" : node.error().sentence;
}

TEST(ParseJson, EveryValueKnowsItsLine) {
  const auto root =
      parse_json("{\n\"a\": 1\n,\n\"b\": [\ntrue,\n\"x\"],\n\"c\": {\n\"d\": null}\n}\n", "f.json");
  ASSERT_TRUE(root);
  EXPECT_EQ(root->line, 1u);
  ASSERT_EQ(root->members.size(), 3u);
  EXPECT_EQ(root->members[0].node.line, 2u);
  EXPECT_EQ(root->members[1].node.line, 4u);
  EXPECT_EQ(root->members[1].node.elements.at(0).line, 5u);
  EXPECT_EQ(root->members[1].node.elements.at(1).line, 6u);
  EXPECT_EQ(root->members[2].node.members.at(0).node.line, 8u);
}

TEST(ParseJson, ErrorsNameTheLine) {
  EXPECT_EQ(error_of(""), "f.json:1: the file is empty; expected JSON");
  EXPECT_EQ(error_of("{\n\"a\": 1,\n"), "f.json:2: the file ends inside the JSON");
  EXPECT_THAT(error_of("{\n\"a\": nope\n}"), StartsWith("f.json:2: not valid JSON at"));
  EXPECT_EQ(error_of("{\"a\": 1,\n\"a\": 2}"), "f.json:2: field 'a' stands twice");
  EXPECT_THAT(error_of("{} {}"), StartsWith("f.json:1: not valid JSON"));
  EXPECT_THAT(error_of("1e999"), StartsWith("f.json:1: not valid JSON"));
  EXPECT_EQ(error_of(std::string(100, '[')), "f.json:1: nested deeper than 64");
}

TEST(ParseJson, ManyFieldsAreRefusedBeforeTheySlowAnythingDown) {
  std::string bytes = "{";
  for (int i = 0; i < 2000; ++i) bytes += "\"" + std::to_string(i) + "\":0,";
  EXPECT_THAT(error_of(bytes + "\"end\":0}"), HasSubstr("more than 1000 fields"));
}

/// What one reader that asks for a little of everything says.
std::string sentence_for(std::string_view bytes) {
  const auto value = read_json_object(bytes, "club.json", [](JsonFields& fields) {
    fields.expect_schema("glidewright.test/1");
    fields.number("wind_direction_deg", {0.0, 360.0});
    double width_ft = 75.0;
    fields.replace_number("width_ft", {10.0, 1000.0}, width_ft);
    if (fields.has("inner")) {
      if (auto inner = fields.object("inner")) {
        inner->text("name");
        inner->refuse_unknown_fields();
      }
    }
    return width_ft;
  });
  return value ? std::to_string(*value) : value.error().sentence;
}

TEST(JsonFields, SentencesNameFileLineFieldAndRange) {
  EXPECT_EQ(sentence_for("{\"wind_direction_deg\": 240}"), "75.000000");
  EXPECT_EQ(sentence_for("{\"wind_direction_deg\": 240, \"width_ft\": 60}"), "60.000000");
  EXPECT_EQ(sentence_for("{\n\"wind_direction_deg\": 400\n}"),
            "club.json:2: wind direction 400 deg; expected 0 to 360");
  EXPECT_EQ(sentence_for("\n{}"), "club.json:2: field 'wind_direction_deg' is missing");
  EXPECT_EQ(sentence_for("{\"wind_direction_deg\":\n\"240\"}"),
            "club.json:2: 'wind_direction_deg' is text; expected a number");
  EXPECT_EQ(sentence_for("{\"wind_direction_deg\": 0,\n\"widht_ft\": 60}"),
            "club.json:2: unknown field 'widht_ft'; did you mean 'width_ft'?");
  EXPECT_EQ(sentence_for("{\"wind_direction_deg\": 0,\n\"colour\": 1}"),
            "club.json:2: unknown field 'colour'");
  EXPECT_EQ(sentence_for("{\"wind_direction_deg\": 0,\n\"inner\": {\n\"name\": \"\"}}"),
            "club.json:3: 'name' is empty; expected text");
  EXPECT_EQ(sentence_for("{\"schema\": \"other/2\", \"wind_direction_deg\": 0}"),
            "club.json:1: schema 'other/2'; expected 'glidewright.test/1'");
  EXPECT_EQ(sentence_for("[1]"), "club.json:1: a list stands here; expected an object");
}

TEST(FileStem, IsTheNameAlone) {
  EXPECT_EQ(file_stem("data/airplanes/demo-trainer.json"), "demo-trainer");
  EXPECT_EQ(file_stem("demo"), "demo");
}

RC_GTEST_PROP(ParseJson, AnyBytesAreReadOrRefused, ()) {
  const auto pieces = *rc::gen::container<std::vector<std::string>>(rc::gen::element<std::string>(
      "{", "}", "[", "]", "\"a\"", ":", ",", "1", "-", "1e9", "null", "\n", "\"", "\\u12", "\xFF", " "));
  std::string bytes;
  for (const auto& piece : pieces) bytes += piece;
  const auto node = parse_json(bytes, "f.json");
  const bool sound = node || node.error().sentence.starts_with("f.json:");
  RC_ASSERT(sound);
}

}  // namespace
}  // namespace glidewright

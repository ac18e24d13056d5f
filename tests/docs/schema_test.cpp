// The schemas in docs/schema are sound themselves, take a good object and notice drift.

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>
#include <valijson/adapters/nlohmann_json_adapter.hpp>
#include <valijson/schema.hpp>
#include <valijson/schema_parser.hpp>
#include <valijson/validator.hpp>

#include "tests/formats/test_files.hpp"

namespace glidewright {
namespace {

using nlohmann::json;

/// What the schema has against the object; empty when nothing.
std::string objections(const std::string& schema_name, const json& object) {
  const auto path =
      std::filesystem::path(GLIDEWRIGHT_DATA).parent_path() / "docs" / "schema" / (schema_name + ".json");
  const auto document = json::parse(bytes_of(path));
  valijson::Schema schema;
  valijson::SchemaParser parser(valijson::SchemaParser::kDraft7);
  parser.populateSchema(valijson::adapters::NlohmannJsonAdapter(document), schema);
  valijson::Validator validator;
  valijson::ValidationResults results;
  if (validator.validate(schema, valijson::adapters::NlohmannJsonAdapter(object), &results)) return {};
  std::string told;
  valijson::ValidationResults::Error error;
  while (results.popError(error)) told += error.description + "\n";
  return told;
}

const json k_brief = json::parse(R"({
  "schema": "glidewright.brief/1",
  "cue": {"seconds_past_abeam": 9.5, "distance_past_abeam_ft": 1100, "angle_past_abeam_deg": 20,
          "angle_behind_wing_deg": 25},
  "key_points": [{"at": "abeam", "height_ft": 1000, "low_ft": 960, "high_ft": 1040}],
  "flaps": [{"at": "wings level on base", "setting_deg": 10, "rule": "leave it up if low"}],
  "speeds": {"final_kcas": 65},
  "success": {"probability": 0.8, "low95": 0.78, "high95": 0.82, "short_of_runway": 0.001},
  "sensitivities": [{"change": "1 kt more headwind", "touchdown_ft": -139, "cue_s": -0.6}],
  "cautions": []})");

const json k_debrief = json::parse(R"({
  "schema": "glidewright.debrief/1",
  "log": {"format": "gpx", "fixes": 287,
          "sha256": "0123456789abcdef0123456789abcdef0123456789abcdef0123456789abcdef", "rate_hz": 1,
          "quality": {"grade": "good", "notes": []}},
  "runway": {"threshold_latitude_deg": 36.2, "threshold_longitude_deg": -142.6, "true_bearing_deg": 87.6,
             "elevation_ft": 600, "length_ft": 5500},
  "wind_estimate": {"height_ft": 33, "speed_kt": 4, "from_true_deg": 268, "speed_sd_kt": 1, "from_sd_deg": 15,
                    "profile": [{"height_ft": 1000, "speed_kt": 6, "from_true_deg": 268}]},
  "attempts": [{"index": 1, "kind": "power-off", "traffic": "left", "outcome": "landed",
    "abeam": {"time": "2026-05-14T20:05:00.0Z", "height_ft": 990, "lateral_ft": 3000, "groundspeed_kt": 88},
    "base_turn": null,
    "gate": {"time": "2026-05-14T20:06:30Z", "along_ft": -1400, "groundspeed_kt": 62, "sink_fpm": 800,
             "stable": "cannot_tell", "reasons": ["flaps are not in the log"]},
    "touchdown": {"time": "2026-05-14T20:06:50.4Z", "along_ft": 120, "low95_ft": -30, "high95_ft": 260,
                  "cross_ft": 2, "groundspeed_kt": 50, "basis": "height and speed"},
    "findings": [], "airmanship": {"verdict": "sound", "reasons": []},
    "grades": [{"standard": "us-commercial-power-off-180", "verdict": "cannot_tell", "probability_met": 0.7}],
    "causes": [{"cause": "base turn", "effect_ft": 200, "low95_ft": 100, "high95_ft": 300, "sentence": "Late."}],
    "unexplained_ft": -20}]})");

const json k_fly = json::parse(R"({
  "schema": "glidewright.fly/1", "integrator": "reference", "end": "touchdown",
  "touchdown": {"time_s": 60, "along_ft": 100, "cross_ft": 0, "height_ft": 0},
  "abeam": {"time_s": 0, "along_ft": 0, "cross_ft": -3038, "height_ft": 1000},
  "base_turn": {"time_s": 10, "along_ft": -1300, "cross_ft": -3038, "height_ft": 900},
  "maximum_bank_deg": 31, "least_speed_margin": 1.3})");

TEST(Schema, TakesAGoodObject) {
  EXPECT_EQ(objections("brief", k_brief), "");
  EXPECT_EQ(objections("debrief", k_debrief), "");
  EXPECT_EQ(objections("fly", k_fly), "");
}

TEST(Schema, TakesARefusal) {
  json refusal = k_brief;
  refusal["cue"] = nullptr;
  refusal["speeds"] = nullptr;
  refusal["success"] = nullptr;
  refusal["key_points"] = json::array();
  refusal["refusals"] = {"the tailwind of 8 kt is more than 5"};
  EXPECT_EQ(objections("brief", refusal), "");
}

TEST(Schema, NoticesDrift) {
  for (const auto& [name, good] :
       {std::pair("brief", k_brief), std::pair("debrief", k_debrief), std::pair("fly", k_fly)}) {
    json extra = good;
    extra["something_new"] = 1;
    EXPECT_NE(objections(name, extra), "") << name;
    json other_version = good;
    other_version["schema"] = "glidewright.other/1";
    EXPECT_NE(objections(name, other_version), "") << name;
  }
  json extra = k_debrief;
  extra["attempts"][0]["something_new"] = 1;
  EXPECT_NE(objections("debrief", extra), "");
}

/// Each key that the interface promises must be there.
TEST(Schema, NoticesAMissingKey) {
  for (const auto& [name, good] :
       {std::pair("brief", k_brief), std::pair("debrief", k_debrief), std::pair("fly", k_fly)}) {
    for (const auto& [key, value] : good.items()) {
      json without = good;
      without.erase(key);
      EXPECT_NE(objections(name, without), "") << name << " without " << key;
    }
  }
  for (const char* key : {"index", "kind", "traffic", "outcome", "findings", "grades", "airmanship", "causes",
                          "unexplained_ft"}) {
    json without = k_debrief;
    without["attempts"][0].erase(key);
    EXPECT_NE(objections("debrief", without), "") << key;
  }
}

TEST(Schema, RefusesWordsAndNumbersOutOfRange) {
  json wrong = k_debrief;
  wrong["attempts"][0]["outcome"] = "crashed";
  EXPECT_NE(objections("debrief", wrong), "");
  wrong = k_debrief;
  wrong["attempts"][0]["touchdown"]["time"] = "2026-05-14 20:06:50";
  EXPECT_NE(objections("debrief", wrong), "");
  wrong = k_brief;
  wrong["success"]["probability"] = 1.2;
  EXPECT_NE(objections("brief", wrong), "");
}

}  // namespace
}  // namespace glidewright

// Packed logs give what they give unpacked.

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "program.hpp"
#include "tests/formats/packed.hpp"
#include "tests/formats/test_files.hpp"

namespace glidewright {
namespace {

TEST(PackedLogs, ADebriefOfKmzIsThatOfItsKml) {
  const TemporaryFolder folder;
  const auto kml = test_file("flights/F11/F11.kml");
  const auto plain = run_program({"debrief", folder.with("F11.kml", kml), "--json"});
  const auto packed = run_program({"debrief", folder.with("F11.kmz", zipped({{"doc.kml", kml}})), "--json"});
  ASSERT_EQ(packed.exit_code, 0) << packed.errors;
  auto expected = nlohmann::json::parse(plain.output);
  auto given = nlohmann::json::parse(packed.output);
  expected.at("log").erase("file");
  given.at("log").erase("file");
  EXPECT_EQ(given, expected);
}

TEST(PackedLogs, AFitKnowsAPackedTableAsTheSameLog) {
  const TemporaryFolder folder;
  const auto packed = folder.with("glide.csv.gz", gzipped(test_file("flights/glide.csv")));
  const auto alone = run_program({"fit", packed, "--airplane", "demo-trainer"});
  EXPECT_EQ(alone.exit_code, 0) << alone.errors;
  const auto twice =
      run_program({"fit", packed, "tests/data/flights/glide.csv", "--airplane", "demo-trainer"});
  EXPECT_EQ(twice.exit_code, 1);
  EXPECT_NE(twice.errors.find("is the same log as"), std::string::npos) << twice.errors;
}

}  // namespace
}  // namespace glidewright

// A school's own standard, kept with what was judged by it.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <filesystem>
#include <nlohmann/json.hpp>
#include <regex>

#include "tests/apps/records_of_a_test.hpp"
#include "tests/apps/schema.hpp"
#include "tests/formats/test_files.hpp"

namespace glidewright {
namespace {

using nlohmann::json;
using ::testing::HasSubstr;
using ::testing::Not;

class RecordStandards : public RecordsOfATest, public ::testing::Test {
 protected:
  /// A house standard's file, which whoever wrote it may lose.
  std::string house(const std::string& version, const std::string& high_ft) const {
    std::string text = replaced(delivered_file("demo/house-standard.json"), "\"version\": \"2\"",
                                "\"version\": \"" + version + "\"");
    text = replaced(text, "\"high_ft\": 300", "\"high_ft\": " + high_ft);
    return folder.with("house.json", text);
  }
  ProgramRun file_by(const std::string& standard) const {
    return record_by({"file", "data/demo/reference-flight/touch-and-goes.gpx", "--runway",
                      "data/demo/reference-flight/runway.json", "--touchdown-point-ft", "600", "--student",
                      "Demo Student", "--add-student", "--standard", standard});
  }
  json shown(const std::string& standard, const std::string& file = "records") const {
    const auto run = record({"show", "Demo Student", "--json", "--standard", standard}, file);
    EXPECT_EQ(run.exit_code, 0) << run.errors;
    const json object = json::parse(run.output);
    EXPECT_EQ(objections("record", object), "");
    return object;
  }
  static std::string joined_lines(const std::string& text) {
    return std::regex_replace(text, std::regex("\\s+"), " ");
  }
};

TEST_F(RecordStandards, AreShownFromTheRecordsAloneWhenTheFileIsGone) {
  const std::string file = house("2", "300");
  const auto filed = file_by(file);
  ASSERT_EQ(filed.exit_code, 0) << filed.errors;
  const std::string text = bytes_of(file);
  std::filesystem::remove(file);
  const json record_shown = shown("house");
  EXPECT_EQ(record_shown.at("readiness").at("met").at("of"), 3);
  ASSERT_EQ(record_shown.at("standards").size(), 1U);
  EXPECT_EQ(record_shown.at("standards").at(0).at("standard"), json::parse(text));
  const auto told = record({"show", "Demo Student", "--standard", "house"});
  EXPECT_THAT(joined_lines(told.output),
              HasSubstr("2 of house, set by the chief instructor: −100 to +300 ft"));
  // Written out it is the file again, and the log is judged by it as before.
  const auto again = file_by(folder.with("house.json", record({"standard", "show", "house"}).output));
  EXPECT_THAT(again.output, HasSubstr("what the logs hold was filed before"));
  std::filesystem::remove(file);
  EXPECT_THAT(file_by("house").output, HasSubstr("what the logs hold was filed before"));
  const auto other = record({"show", "Demo Student", "--standard", "no-such"});
  EXPECT_EQ(other.exit_code, 1);
  EXPECT_THAT(other.errors, HasSubstr("these records keep house:2"));
}

TEST_F(RecordStandards, AHigherVersionCountsOnlyWhatItJudged) {
  ASSERT_EQ(file_by(house("2", "300")).exit_code, 0);
  const double by_second = shown("house").at("readiness").at("met").at("made");
  const auto unchanged = file_by(house("2", "100"));
  EXPECT_EQ(unchanged.exit_code, 1);
  EXPECT_THAT(unchanged.errors, HasSubstr("version 2 is kept since"));
  const auto kept = record_by({"standard", "add", house("3", "100")});
  ASSERT_EQ(kept.exit_code, 0) << kept.errors;
  EXPECT_EQ(shown("house").at("readiness").at("met").at("of"), 0);
  EXPECT_EQ(shown("house").at("judged_by_other_limits"), 3);
  EXPECT_THAT(joined_lines(record({"show", "Demo Student", "--standard", "house"}).output),
              HasSubstr("3 attempts judged by an earlier version of this standard"));
  EXPECT_EQ(
      record_by({"correct", "Demo Student", "1", "--met", "yes", "--reason", "seen", "--standard", "house"})
          .exit_code,
      1)
      << "not judged by that version";
  ASSERT_EQ(file_by("house").exit_code, 0);
  const double by_third = shown("house").at("readiness").at("met").at("made");
  EXPECT_LT(by_third, by_second) << "a box half as long";
  EXPECT_EQ(shown("house:2").at("readiness").at("met").at("made"), by_second) << "as it was judged then";
  const auto listed = record({"standard", "list", "--json"});
  EXPECT_EQ(objections("standards", json::parse(listed.output)), "");
  EXPECT_EQ(json::parse(listed.output).at("standards").size(), 2U);
}

TEST_F(RecordStandards, GoWithAnArchive) {
  ASSERT_EQ(file_by(house("2", "300")).exit_code, 0);
  std::filesystem::remove(folder.path() + "/house.json");
  ASSERT_EQ(record_by({"export", folder.path() + "/one.zip", "Demo Student"}).exit_code, 0);
  const auto brought = record_by({"import", folder.path() + "/one.zip"}, "other");
  ASSERT_EQ(brought.exit_code, 0) << brought.errors;
  EXPECT_THAT(brought.output, HasSubstr("1 standard new here"));
  EXPECT_THAT(record_by({"import", folder.path() + "/one.zip"}, "other").output, Not(HasSubstr("new here")));
  EXPECT_EQ(shown("house", "other").at("readiness"), shown("house").at("readiness"));
  EXPECT_EQ(record({"standard", "show", "house"}, "other").output,
            record({"standard", "show", "house"}).output);
}

TEST_F(RecordStandards, ADrillFromOwnFlightsTakesItsBox) {
  ASSERT_EQ(file_by(house("2", "300")).exit_code, 0);
  std::filesystem::remove(folder.path() + "/house.json");
  const auto run = record_by({"drill", "Demo Student", "--standard", "house", "--runway",
                              "data/demo/reference-flight/runway.json", "--json"});
  ASSERT_EQ(run.exit_code, 0) << run.errors;
  const json drill = json::parse(run.output);
  ASSERT_FALSE(drill.at("situations").empty());
  EXPECT_EQ(drill.at("situations").at(0).at("box").at("low_ft"), -100);
}

}  // namespace
}  // namespace glidewright

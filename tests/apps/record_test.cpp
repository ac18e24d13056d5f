// Records as an instructor keeps them from the command line.

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>
#include <regex>

#include "tests/apps/program.hpp"

namespace glidewright {
namespace {

using ::testing::HasSubstr;

class RecordTest : public ::testing::Test {
 protected:
  /// `record ...` in this test's file.
  ProgramRun record(std::vector<std::string> words) const {
    words.insert(words.begin(), "record");
    words.insert(words.end(), {"--records", folder.path() + "/records"});
    return run_program(words);
  }
  ProgramRun file_lesson(std::vector<std::string> more = {}) const {
    std::vector<std::string> words = {"file",
                                      "data/demo/reference-flight/touch-and-goes.gpx",
                                      "--runway",
                                      "data/demo/reference-flight/runway.json",
                                      "--touchdown-point-ft",
                                      "600",
                                      "--student",
                                      "Demo Student",
                                      "--by",
                                      "Demo Instructor"};
    words.insert(words.end(), more.begin(), more.end());
    return record(words);
  }
  nlohmann::json shown() const {
    return nlohmann::json::parse(record({"show", "Demo Student", "--json"}).output);
  }

  TemporaryFolder folder;
};

TEST_F(RecordTest, FilesALogOnce) {
  EXPECT_EQ(file_lesson().exit_code, 1) << "nobody has that name";
  EXPECT_THAT(file_lesson({"--add-student"}).output, HasSubstr("3 new attempts"));
  EXPECT_THAT(file_lesson({"--add-student"}).output, HasSubstr("0 new attempts"));
  EXPECT_EQ(record({"list"}).output, "student 1: Demo Student\n");
}

/// The records and the logs themselves prove the same.
TEST_F(RecordTest, ShowsWhatReadinessSays) {
  ASSERT_EQ(file_lesson({"--add-student"}).exit_code, 0);
  auto direct = nlohmann::json::parse(
      run_program({"readiness", "data/demo/reference-flight/touch-and-goes.gpx", "--runway",
                   "data/demo/reference-flight/runway.json", "--touchdown-point-ft", "600", "--json"})
          .output);
  auto kept = shown();
  for (auto* object : {&direct, &kept})
    for (auto& attempt : object->at("attempts")) attempt.erase("file");
  EXPECT_EQ(kept, direct);
}

TEST_F(RecordTest, ACorrectionCountsAndSaysWhy) {
  ASSERT_EQ(file_lesson({"--add-student"}).exit_code, 0);
  EXPECT_EQ(shown().at("met").at("of"), 3);
  EXPECT_EQ(record({"correct", "Demo Student", "2", "--alone", "no", "--by", "B. Demo"}).exit_code, 2)
      << "without a reason";
  EXPECT_EQ(record({"correct", "Demo Student", "99", "--alone", "no", "--by", "B. Demo", "--reason", "x"})
                .exit_code,
            1);
  EXPECT_EQ(record({"correct", "Demo Student", "2", "--by", "B. Demo", "--reason", "x"}).exit_code, 2)
      << "nothing is corrected";
  const auto run = record({"correct", "Demo Student", "2", "--alone", "no", "--by", "B. Demo", "--reason",
                           "prompted at the turn"});
  EXPECT_EQ(run.exit_code, 0) << run.errors;
  EXPECT_EQ(shown().at("met").at("of"), 2);
  EXPECT_EQ(shown().at("left_out").at("not_alone"), 1);
  const auto told = std::regex_replace(record({"show", "Demo Student"}).output, std::regex("\\s+"), " ");
  EXPECT_THAT(told, HasSubstr("by B. Demo, version 2: prompted at the turn"));
}

TEST_F(RecordTest, ABackupOpensAndIsNotWrittenOver) {
  ASSERT_EQ(file_lesson({"--add-student"}).exit_code, 0);
  const std::string copy = folder.path() + "/copy";
  EXPECT_EQ(record({"backup", copy}).exit_code, 0);
  EXPECT_EQ(record({"backup", copy}).exit_code, 1);
  EXPECT_EQ(run_program({"record", "list", "--records", copy}).output, "student 1: Demo Student\n");
}

}  // namespace
}  // namespace glidewright

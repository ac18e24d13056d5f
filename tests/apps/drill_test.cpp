// Drills as a student answers them, and what the records make of it.

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <regex>

#include "tests/apps/program.hpp"
#include "tests/apps/reference_flights.hpp"

namespace glidewright {
namespace {

using nlohmann::json;
using ::testing::HasSubstr;
using ::testing::Not;

class DrillTest : public ::testing::Test {
 protected:
  static std::vector<std::string> drill(std::vector<std::string> more) {
    more.insert(more.begin(), {"drill", "--runway", "data/demo/harrow-fen-24.json", "--airplane",
                               "demo-trainer", "--wind", "250/11", "--seed", "7"});
    if (std::find(more.begin(), more.end(), "--count") == more.end())
      more.insert(more.end(), {"--count", "3"});
    return more;
  }
  ProgramRun answered(const std::string& typed, const std::vector<std::string>& more = {}) const {
    const std::string input = folder.with("typed", typed);
    return run_program(drill(more), {}, input.c_str());
  }
  static json truth() { return json::parse(run_program(drill({"--json"})).output).at("situations"); }
  /// What answers all three right.
  static std::string all_right() {
    std::string typed;
    for (const auto& one : truth()) {
      const auto& place = one.at("answer").at("in_20_s");
      typed += fmt::format("{} sure {},{}\n", one.at("answer").at("energy").get<std::string>(),
                           place.at("along_ft").get<double>(), place.at("cross_ft").get<double>());
    }
    return typed;
  }

  TemporaryFolder folder;
};

TEST_F(DrillTest, SaysNothingBeforeTheAnswer) {
  const auto run = answered("");
  EXPECT_EQ(run.exit_code, 0);
  EXPECT_THAT(run.output, HasSubstr("Picture 1 of 3"));
  EXPECT_THAT(run.output, Not(HasSubstr("Picture 2")));
  EXPECT_THAT(run.output, Not(HasSubstr("lands at")));
  EXPECT_THAT(run.output, HasSubstr("Nothing was answered"));
}

TEST_F(DrillTest, RightAnswersAreRight) {
  const auto run = answered(all_right());
  EXPECT_THAT(run.output, HasSubstr("3 of 3 right; when sure, 3 of 3."));
  EXPECT_THAT(run.output, HasSubstr("Marks for 20 s ahead: 0 ft off in the median of 3"));
}

TEST_F(DrillTest, WhatIsNotUnderstoodIsAskedAgain) {
  const auto run = answered("perhaps\nhigh maybe\nh 1;2\nl\nq\n");
  std::size_t not_understood = 0;
  for (auto at = run.output.find("Not understood"); at != std::string::npos;
       at = run.output.find("Not understood", at + 1))
    ++not_understood;
  EXPECT_EQ(not_understood, 3U);
  EXPECT_THAT(run.output, HasSubstr("You said low, fairly."));
}

TEST_F(DrillTest, AnswersAreFiledOnceAndScored) {
  const std::string file = folder.path() + "/answers.json";
  ASSERT_EQ(answered(all_right(), {"--answers", file}).exit_code, 0);
  EXPECT_EQ(answered(all_right(), {"--answers", file}).exit_code, 1) << "nothing is written over";
  const auto record = [&](std::vector<std::string> words) {
    words.insert(words.begin(), "record");
    words.insert(words.end(), {"--records", folder.path() + "/records"});
    return run_program(words);
  };
  ASSERT_EQ(record({"add", "Demo Student", "--by", "Demo Instructor"}).exit_code, 0);
  const std::vector<std::string> filing{"drills", "Demo Student", file, "--by", "Demo Instructor"};
  EXPECT_THAT(record(filing).output, HasSubstr("3 new answers filed"));
  EXPECT_THAT(record(filing).output, HasSubstr("all were filed before"));
  EXPECT_THAT(record({"show", "Demo Student"}).output, HasSubstr("3 of 3 right"));
  const auto kept = json::parse(record({"show", "Demo Student", "--json"}).output);
  EXPECT_EQ(kept.at("drill_score").at("sure").at("right"), 3);
  EXPECT_EQ(kept.at("student").at("drills").size(), 3U);
  EXPECT_EQ(record({"drills", "Demo Student", "data/demo/harrow-fen-24.json", "--by", "X"}).exit_code, 1);
}

/// As the page asks: what was answered so far goes in, and comes out with its score.
TEST_F(DrillTest, AnswersGivenElsewhereAreScoredAndStayTheSame) {
  const std::string given = "2 low guess -2400,-900 @2026-05-14T20:07:14.400Z";
  const auto once = json::parse(run_program(drill({"--json", "--given", given})).output);
  ASSERT_EQ(once.at("answers").size(), 1U);
  EXPECT_EQ(once.at("score").at("guess").at("of"), 1);
  EXPECT_EQ(once.at("answers").at(0).at("number"), 2);
  const std::string before = folder.with(
      "before.json", json{{"schema", "glidewright.answers/1"}, {"answers", once.at("answers")}}.dump());
  const auto twice = json::parse(run_program(drill({"--json", "--given", given, "--before", before})).output);
  ASSERT_EQ(twice.at("answers").size(), 2U);
  EXPECT_EQ(twice.at("answers").at(0), twice.at("answers").at(1)) << "the same answer, the same uid";
  for (const char* wrong :
       {"2 low", "low @2026-05-14T20:07:14Z", "9 low @2026-05-14T20:07:14Z", "2 low @noon"})
    EXPECT_EQ(run_program(drill({"--json", "--given", wrong})).exit_code, 1) << wrong;
}

TEST_F(DrillTest, IsRefusedWhereThereIsNoApproachToAskAbout) {
  const auto run = run_program(drill({"--spacing-nm", "2.5"}));
  EXPECT_EQ(run.exit_code, 1);
  EXPECT_THAT(run.errors, HasSubstr("no drill is offered"));
  EXPECT_EQ(run_program(drill({"--count", "0"})).exit_code, 1);
}

}  // namespace
}  // namespace glidewright

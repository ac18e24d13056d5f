// Drills drawn from the flights that are filed for a student.

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <map>
#include <nlohmann/json.hpp>
#include <regex>

#include "tests/apps/program.hpp"
#include "tests/apps/reference_flights.hpp"
#include "tests/apps/schema.hpp"

namespace glidewright {
namespace {

using nlohmann::json;
using ::testing::HasSubstr;
using ::testing::Not;

class OwnDrillTest : public ::testing::Test {
 protected:
  std::string records() const { return folder.path() + "/records"; }
  ProgramRun record(std::vector<std::string> words) const {
    words.insert(words.begin(), "record");
    words.insert(words.end(), {"--records", records(), "--by", "Demo Instructor"});
    return run_program(words);
  }
  void file_lesson() const {
    ASSERT_EQ(record({"airfield", "add", "Home", "data/demo/reference-flight/runway.json"}).exit_code, 0);
    ASSERT_EQ(record({"file", "data/demo/reference-flight/touch-and-goes.gpx", "--runway", "Home",
                      "--touchdown-point-ft", "600", "--airplane", "demo-trainer", "--student", k_name,
                      "--add-student"})
                  .exit_code,
              0);
  }
  json drawn(const std::vector<std::string>& more = {}) const {
    std::vector<std::string> words = {"drill", k_name, "--seed", "7", "--json"};
    words.insert(words.end(), more.begin(), more.end());
    const auto run = record(words);
    EXPECT_EQ(run.exit_code, 0) << run.errors;
    const json object = json::parse(run.output);
    EXPECT_EQ(objections("own-drill", object), "");
    return object;
  }
  ProgramRun answered(const std::string& typed) const {
    const std::string input = folder.with("typed", typed);
    return run_program(
        {"record", "drill", k_name, "--seed", "7", "--records", records(), "--by", "Demo Instructor"}, {},
        input.c_str());
  }
  static constexpr const char* k_name = "דוגמה '; drop table answers; --";

  TemporaryFolder folder;
};

TEST_F(OwnDrillTest, AsksBeforeAnythingIsShown) {
  file_lesson();
  const auto run = answered("");
  EXPECT_EQ(run.exit_code, 0) << run.errors;
  EXPECT_THAT(run.output, HasSubstr("Picture 1 of"));
  EXPECT_THAT(run.output, HasSubstr("Nothing was answered"));
  for (const char* told : {"touched down", "Height", "touch-and-goes", "mended"})
    EXPECT_THAT(run.output, Not(HasSubstr(told)));
}

/// The wheels of this flight touched at +389, -266 and +88 ft (data/demo/reference-flight), so its three
/// attempts ended beyond the box, short of it and in it.
TEST_F(OwnDrillTest, TheAnswerIsWhatHappened) {
  file_lesson();
  const std::map<int, std::string> truth = {{1, "high"}, {2, "low"}, {3, "on"}};
  const json drill = drawn();
  ASSERT_FALSE(drill.at("situations").empty());
  for (const json& one : drill.at("situations")) {
    const json& answer = one.at("answer");
    EXPECT_EQ(answer.at("energy"), truth.at(one.at("index").get<int>()));
    EXPECT_GE(answer.at("chance").get<double>(), 0.8);
    EXPECT_EQ(one.at("flown").back(), one.at("now"));
    EXPECT_EQ(answer.at("to_come").back().at("along_ft"), answer.at("touchdown_ft"));
    // The place in 20 s is one of the way to come.
    const double then_s = one.at("now").at("time_s").get<double>() + 20.0;
    for (const json& place : answer.at("to_come")) {
      if (std::abs(place.at("time_s").get<double>() - then_s) > 0.01) continue;
      EXPECT_EQ(place, answer.at("in_20_s"));
    }
    EXPECT_GE(answer.at("to_come").back().at("time_s").get<double>(), then_s + 3.0)
        << "before the wheels touch";
  }
  int left_out = 0;
  for (const json& one : drill.at("left_out")) left_out += one.at("attempts").get<int>();
  EXPECT_EQ(static_cast<int>(drill.at("situations").size()) + left_out, 3) << "each is asked or said why not";
  EXPECT_EQ(drawn(), drill) << "the same seed";
}

TEST_F(OwnDrillTest, WhatSomebodySawStandsAboveTheLog) {
  file_lesson();
  for (const char* number : {"1", "2", "3"})
    ASSERT_EQ(record({"correct", k_name, number, "--in-box", "yes", "--reason", "stood beside it"}).exit_code,
              0);
  const json drill = drawn();
  ASSERT_EQ(drill.at("situations").size(), 3U);
  for (const json& one : drill.at("situations")) {
    EXPECT_EQ(one.at("answer").at("energy"), "on");
    EXPECT_EQ(one.at("answer").at("chance"), 1.0);
  }
}

TEST_F(OwnDrillTest, AnswersAreFiledAndTheEyeIsTold) {
  file_lesson();
  std::string typed;
  const json drill = drawn();
  for (const json& one : drill.at("situations")) {
    const json& place = one.at("answer").at("in_20_s");
    typed += fmt::format("{} sure {},{}\n", one.at("answer").at("energy").get<std::string>(),
                         place.at("along_ft").get<double>(), place.at("cross_ft").get<double>());
  }
  const std::size_t count = drill.at("situations").size();
  const auto run = answered("what?\n" + typed);
  EXPECT_EQ(run.exit_code, 0) << run.errors;
  EXPECT_THAT(run.output, HasSubstr("Not understood"));
  EXPECT_THAT(run.output, HasSubstr(fmt::format("{0} of {0} right; when sure, {0} of {0}", count)));
  EXPECT_THAT(run.output, HasSubstr("touch-and-goes.gpx"));
  const json kept =
      json::parse(run_program({"record", "show", k_name, "--records", records(), "--json"}).output);
  EXPECT_EQ(objections("record", kept), "");
  ASSERT_EQ(kept.at("student").at("drills").size(), count);
  EXPECT_THAT(kept.at("student").at("drills").at(0).at("setting").get<std::string>(),
              HasSubstr("own flight"));
  EXPECT_EQ(kept.at("drill_over_time").at(0).at("score").at("all").at("right"), count);
  EXPECT_EQ(drawn().at("score").at("all").at("of"), count) << "the score goes on from there";
}

TEST_F(OwnDrillTest, SaysWhyThereIsNothingToAsk) {
  ASSERT_EQ(record({"add", k_name}).exit_code, 0);
  EXPECT_THAT(record({"drill", k_name}).errors, HasSubstr("none of 0 attempts"));
  EXPECT_EQ(record({"drill", "Nobody"}).exit_code, 1);
  EXPECT_EQ(record({"drill", k_name, "--count", "0"}).exit_code, 1);
  file_lesson();
  for (const char* number : {"1", "2", "3"})
    ASSERT_EQ(record({"trash", k_name, "--attempt", number}).exit_code, 0);
  EXPECT_EQ(record({"drill", k_name}).exit_code, 1);
}

}  // namespace
}  // namespace glidewright

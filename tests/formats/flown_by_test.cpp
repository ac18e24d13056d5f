#include "formats/flown_by.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <set>

#include "formats/marks_json.hpp"

namespace glidewright {
namespace {

TEST(FlownByNames, EachKindHasItsOwnNameAndWords) {
  std::set<std::string> names, words;
  for (const FlownBy one : {FlownBy::student, FlownBy::student_prompted, FlownBy::instructor,
                            FlownBy::controls_taken, FlownBy::not_alone}) {
    EXPECT_EQ(flown_by_named(flown_by_name(one)), one);
    names.insert(flown_by_name(one));
    words.insert(flown_by_words(one));
  }
  EXPECT_EQ(names.size(), 5U);
  EXPECT_EQ(words.size(), 5U);
  EXPECT_EQ(flown_by_named("nobody"), std::nullopt);
}

/// Whoever says it now knows which of the four it was.
TEST(FlownByNames, WhatIsSaidNowIsOneOfFour) {
  EXPECT_EQ(flown_by_said("not_alone"), std::nullopt);
  EXPECT_EQ(flown_by_said(""), std::nullopt);
  EXPECT_EQ(flown_by_expected(), "student, student_prompted, instructor or controls_taken");
  for (const std::string& one : flown_by_choices()) EXPECT_TRUE(flown_by_said(one)) << one;
  const auto marks = read_marks_json(
      R"({"schema": "glidewright.marks/1", "attempts": [{"attempt": 1, "flown_by": "not_alone"}]})",
      "marks.json");
  ASSERT_FALSE(marks);
  EXPECT_THAT(marks.error().sentence, ::testing::HasSubstr("instructor or controls_taken"));
}

}  // namespace
}  // namespace glidewright

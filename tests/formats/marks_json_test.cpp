#include "formats/marks_json.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "formats/time.hpp"
#include "tests/formats/test_files.hpp"
#include "tests/where.hpp"

namespace glidewright {
namespace {

using testing::HasSubstr;

std::string sentence_for(const std::string& attempt) {
  const auto marks = read_marks_json("{\"attempts\": [\n" + attempt + "]}", "lesson.json");
  EXPECT_FALSE(marks) << attempt;
  return marks ? "" : marks.error().sentence;
}

TEST(MarksJson, ReadsTheDeliveredExample) {
  const auto path = std::filesystem::path(where::data()) / "demo/reference-flight/marks.json";
  const auto marks = read_marks_json(bytes_of(path), path.string());
  ASSERT_TRUE(marks) << marks.error().sentence;
  ASSERT_EQ(marks->size(), 2u);
  const AttemptMarks& first = marks->front();
  EXPECT_EQ(first.attempt, 1);
  EXPECT_EQ(first.touchdown_seen->along_ft, 400.0);
  EXPECT_EQ(first.touchdown_seen->sd_ft, 30.0);
  ASSERT_EQ(first.flaps->size(), 2u);
  EXPECT_EQ(first.flaps->back().at.after_abeam_s, 61.0);
  EXPECT_EQ(first.flown_by, FlownBy::student);
  EXPECT_FALSE(marks->back().flaps);
}

TEST(MarksJson, MomentIsATimeOrSecondsAfterAbeam) {
  const auto marks = read_marks_json(
      R"({"attempts": [{"attempt": 2, "touchdown_at": {"time": "2026-05-14T20:07:14.4Z", "sd_s": 0.1},
                        "idle": {"after_abeam_s": -1.5}}]})",
      "lesson.json");
  ASSERT_TRUE(marks) << marks.error().sentence;
  const AttemptMarks& one = marks->front();
  EXPECT_EQ(one.touchdown_at->at.time_unix_s, *unix_seconds("2026-05-14T20:07:14.4Z"));
  EXPECT_EQ(one.touchdown_at->sd_s, 0.1);
  EXPECT_FALSE(one.idle->time_unix_s);
  EXPECT_EQ(one.idle->after_abeam_s, -1.5);
}

TEST(MarksJson, NoFlapIsNotTheSameAsNoMark) {
  const auto marks =
      read_marks_json(R"({"attempts": [{"attempt": 1, "flaps": []}, {"attempt": 2}]})", "m.json");
  ASSERT_TRUE(marks) << marks.error().sentence;
  EXPECT_TRUE(marks->front().flaps && marks->front().flaps->empty());
  EXPECT_FALSE(marks->back().flaps);
}

TEST(MarksJson, SaysWhatIsWrongAndWhere) {
  EXPECT_THAT(sentence_for(R"({"touchdown_ft": 20})"), HasSubstr("lesson.json:2"));
  EXPECT_THAT(sentence_for(R"({"attempt": 1.5})"), HasSubstr("whole number"));
  EXPECT_THAT(sentence_for(R"({"attempt": 1, "idle": {}})"), HasSubstr("either time or after_abeam_s"));
  EXPECT_THAT(sentence_for(R"({"attempt": 1, "idle": {"time": "noon"}})"), HasSubstr("time 'noon'"));
  EXPECT_THAT(sentence_for(R"({"attempt": 1, "flown_by": "nobody"})"), HasSubstr("expected student,"));
  EXPECT_THAT(sentence_for(R"({"attempt": 1, "touchdown": 20})"), HasSubstr("touchdown"));
  EXPECT_THAT(sentence_for(R"({"attempt": 1}, {"attempt": 1})"), HasSubstr("attempt 1 is marked twice"));
}

TEST(MarksJson, ASlipHasTwoMomentsInTheirOrder) {
  const auto marks = read_marks_json(
      R"({"attempts": [{"attempt": 1, "slips": [{"in": {"after_abeam_s": 61}, "out": {"after_abeam_s": 68.5}}]},
                       {"attempt": 2, "slips": []}, {"attempt": 3}]})",
      "m.json");
  ASSERT_TRUE(marks) << marks.error().sentence;
  ASSERT_EQ(marks->at(0).slips->size(), 1u);
  EXPECT_EQ(marks->at(0).slips->front().out.after_abeam_s, 68.5);
  EXPECT_TRUE(marks->at(1).slips && marks->at(1).slips->empty());
  EXPECT_FALSE(marks->at(2).slips);
  EXPECT_THAT(sentence_for(R"({"attempt": 1, "slips": [{"in": {"after_abeam_s": 61}}]})"),
              HasSubstr("a slip needs both moments"));
  EXPECT_THAT(sentence_for(R"({"attempt": 1, "slips": [{"in": {"after_abeam_s": 61}, "out":
                               {"after_abeam_s": 60}}]})"),
              HasSubstr("out before it is in"));
}

TEST(MarksText, AttemptAndFeet) {
  const auto plain = read_seen_text("2:+120");
  ASSERT_TRUE(plain);
  EXPECT_EQ(plain->attempt, 2);
  EXPECT_EQ(plain->touchdown_seen->along_ft, 120.0);
  const auto sure = read_seen_text("13:-40~12");
  ASSERT_TRUE(sure);
  EXPECT_EQ(sure->attempt, 13);
  EXPECT_EQ(sure->touchdown_seen->along_ft, -40.0);
  EXPECT_EQ(sure->touchdown_seen->sd_ft, 12.0);
  for (const char* wrong :
       {"", ":", "2", "2:", "0:10", "1.5:10", "1:10~", "1:10~0", "1:nan", "1~3:10", "x:10", "1:1e9"})
    EXPECT_FALSE(read_seen_text(wrong)) << wrong;
}

TEST(MarksText, JoinsTheFilesMarks) {
  const std::vector<AttemptMarks> from_file = *read_marks_json(
      R"({"attempts": [{"attempt": 1, "note": "gusty"}, {"attempt": 2, "touchdown_ft": 5}]})", "m.json");
  const auto both = joined(from_file, {*read_seen_text("1:30")});
  ASSERT_TRUE(both);
  ASSERT_EQ(both->size(), 2u);
  EXPECT_EQ(both->front().note, "gusty");
  EXPECT_EQ(both->front().touchdown_seen->along_ft, 30.0);
  EXPECT_FALSE(joined(from_file, {*read_seen_text("2:30")}));
  EXPECT_EQ(joined(from_file, {*read_seen_text("7:30")})->size(), 3u);
}

TEST(MarksJson, WritesWhatItRead) {
  const auto marks = *read_marks_json(
      R"({"attempts": [{"attempt": 4, "touchdown_ft": -12, "touchdown_sd_ft": 9,
          "flaps": [{"setting_deg": 20, "after_abeam_s": 31.5}],
          "slips": [{"in": {"after_abeam_s": 60.5}, "out": {"after_abeam_s": 66}}], "flown_by": "controls_taken",
          "go_around_forced": true, "note": "n", "marked_by": "b"}]})",
      "m.json");
  Json written = marks_to_json(marks.front());
  EXPECT_FALSE(written.contains("attempt"));  // it stands in its attempt
  written["attempt"] = 4;
  const auto again = read_marks_json(Json{{"attempts", Json::array({written})}}.dump(), "m.json");
  ASSERT_TRUE(again) << again.error().sentence;
  EXPECT_EQ(marks_to_json(again->front()), marks_to_json(marks.front()));
}

/// What no log sees: kept as ticked, refused where it is no answer, and unanswered where nobody ticked.
TEST(MarksJson, ChecklistIsKeptAsTicked) {
  const std::string before =
      "{\"schema\": \"glidewright.marks/1\", \"attempts\": [{\"attempt\": 1, \"checklist\": ";
  const auto read = read_marks_json(before + "{\"aligned\": true, \"drifting\": false}}]}", "m.json");
  ASSERT_TRUE(read) << read.error().sentence;
  const Checklist& ticked = read->front().checklist;
  int answered = 0;
  for (std::size_t i = 0; i < k_checklist.size(); ++i) {
    answered += ticked[i].has_value();
    if (k_checklist[i].name == "aligned") {
      EXPECT_EQ(ticked[i], true);
    }
    if (k_checklist[i].name == "drifting") {
      EXPECT_EQ(ticked[i], false);
    }
  }
  EXPECT_EQ(answered, 2);
  const auto written = marks_to_json(read->front());
  EXPECT_EQ(written.at("checklist").size(), 2U);
  for (const char* wrong : {"{\"aligned\": \"yes\"}", "{\"alined\": true}", "[true]"})
    EXPECT_FALSE(read_marks_json(before + wrong + "}]}", "m.json")) << wrong;
}

}  // namespace
}  // namespace glidewright

// How somebody on the page asks for a debrief: what is taken, and that no file of the server can be named.
#include "apps/cli/inputs/asked_debrief.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "formats/sha256.hpp"
#include "formats/standard_json.hpp"
#include "formats/track_log.hpp"
#include "formats/track_writers.hpp"
#include "tests/formats/test_files.hpp"

namespace glidewright {
namespace {

using ::testing::HasSubstr;
using ::testing::Not;

const std::string k_asked =
    R"({"runway": "-31.7246522,81.9427774,182.3,2400,7000", "touchdown_point_ft": 600)";

/// F22 by a device that writes feet where GPX has metres.
std::string in_feet() {
  TrackLog log = *read_track_log(test_file("flights/F22/F22.gpx"), "F22.gpx");
  for (Fix& fix : log.fixes) *fix.altitude_ft = *fix.altitude_ft / k_metres_per_foot;
  return write_gpx(log);
}

Circumstances last_of(const Result<NewFlight>& flight) {
  if (!flight || flight->attempts.empty()) throw std::runtime_error("no attempt was found");
  return flight->attempts.back().assessment.circumstances;
}

TEST(AskedDebrief, HeightsAreTakenAsTheyWereToldUnlessSomethingElseIsAsked) {
  const auto whole = last_of(debrief_as_asked("a.gpx", test_file("flights/F22/F22.gpx"), k_asked + "}", {}));
  EXPECT_EQ(whole.height_unit, "");
  const std::string log = in_feet();
  KnownToRecords known;
  known.height_unit = "ft";
  const auto remembered = last_of(debrief_as_asked("a.gpx", log, k_asked + "}", known));
  EXPECT_EQ(remembered.height_unit, "ft");
  // Written to a millimetre.
  EXPECT_NEAR(remembered.along_ft.value(), whole.along_ft.value(), 1.0);
  known.height_unit = "m";
  const auto asked = last_of(debrief_as_asked("a.gpx", log, k_asked + R"(, "height_unit": "ft"})", known));
  EXPECT_EQ(asked.height_unit, "ft");
  EXPECT_NEAR(asked.along_ft.value(), whole.along_ft.value(), 1.0);
}

TEST(AskedDebrief, WhatWasMarkedBeforeHoldsUnlessMarksAreSent) {
  const std::string log = test_file("flights/F22/F22.gpx");
  const auto marks = [](int along_ft) {
    return R"({"schema": "glidewright.marks/1", "attempts": [{"attempt": 1, "touchdown_ft": )" +
           std::to_string(along_ft) + "}]}";
  };
  KnownToRecords known;
  known.marks = marks(150);
  const auto first = [&](const std::string& asked) {
    const auto flight = debrief_as_asked("a.gpx", log, asked, known);
    if (!flight || flight->attempts.empty()) throw std::runtime_error("no attempt was found");
    return flight->attempts.front().assessment.circumstances;
  };
  // A place that was seen is kept as it was said, to the foot.
  EXPECT_NEAR(first(k_asked + "}").along_ft.value(), 150.0, 1.0);
  EXPECT_NE(first(k_asked + "}").marks, "");
  EXPECT_NEAR(first(k_asked + ", \"marks\": " + marks(-60) + "}").along_ft.value(), -60.0, 1.0);
}

/// Known to the records alone: its text judges, and goes along with the flight.
TEST(AskedDebrief, AStandardThatTheRecordsKeepJudges) {
  const std::string text = delivered_file("demo/house-standard.json");
  const KeptStandard kept = kept_text(*read_standard_json(text, "house"), text);
  KnownToRecords known;
  known.standard = kept;
  const std::string asked = k_asked + ", \"standard\": \"" + kept.sha256 + "\"}";
  const std::string log = test_file("flights/F22/F22.gpx");
  const auto flight = debrief_as_asked("a.gpx", log, asked, known);
  ASSERT_TRUE(flight) << flight.error().sentence;
  EXPECT_EQ(flight->standard->content, kept.content);
  EXPECT_EQ(flight->attempts.back().assessment.standard_id, "house");
  EXPECT_EQ(flight->attempts.back().assessment.standard_sha256, kept.sha256);
  EXPECT_FALSE(debrief_as_asked("a.gpx", log, asked, {})) << "nobody knows it";
}

TEST(AskedDebrief, WhatIsNotUnderstoodIsSaidBeforeAnythingIsKept) {
  EXPECT_EQ(wrong_with_asked("{}"), "");
  for (const char* text :
       {"[]", "nonsense", R"({"height_unit": "km"})", R"({"touchdown_point_ft": "far"})",
        R"({"airplane": "../../etc/passwd"})", R"({"runway": "/etc/passwd"})", R"({"runway": "../x"})",
        R"({"standard": "a.json"})", R"({"marks": "a.json"})", R"({"plan": "plan.json"})",
        R"({"columns": "c.json"})", R"({"records": "r"})", R"({"fleet_airplane": ""})"})
    EXPECT_THAT(wrong_with_asked(text), HasSubstr("expected")) << text;
}

TEST(AskedDebrief, AnErrorNamesTheLogAndNoPlaceOnTheServer) {
  const auto refused = debrief_as_asked("lesson.gpx", "nonsense", "{}", {});
  ASSERT_FALSE(refused);
  EXPECT_THAT(refused.error().sentence, HasSubstr("lesson.gpx"));
  EXPECT_THAT(refused.error().sentence, Not(HasSubstr("glidewright-")));
  const auto runway = debrief_as_asked("a.gpx", "x", R"({"runway": {"schema": "x"}})", {});
  ASSERT_FALSE(runway);
  EXPECT_THAT(runway.error().sentence, HasSubstr("runway.json"));
  EXPECT_THAT(runway.error().sentence, Not(HasSubstr("glidewright-")));
}

}  // namespace
}  // namespace glidewright

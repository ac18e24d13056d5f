#include "formats/report/report.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "engine/debrief/debrief.hpp"
#include "engine/debrief/flown_band.hpp"
#include "formats/airplane_json.hpp"
#include "formats/report/feet_scale.hpp"
#include "formats/report/markup.hpp"
#include "formats/runway_json.hpp"
#include "formats/standard_json.hpp"
#include "formats/track_log.hpp"
#include "formats/wind_text.hpp"
#include "formats/words/numbers.hpp"
#include "formats/words/sentences.hpp"
#include "formats/xml_pull.hpp"
#include "tests/formats/test_files.hpp"
#include "tests/where.hpp"

namespace glidewright {
namespace {

using testing::HasSubstr;
using testing::Not;

std::string delivered(const std::string& path) {
  return bytes_of(std::filesystem::path(where::data()) / path);
}

/// The demonstration's flight with the wind of its report.
DebriefedLog debriefed() {
  DebriefRequest request;
  request.log = *read_track_log(delivered("demo/reference-flight/touch-and-goes.gpx"), "log");
  request.runway = *read_runway_json(delivered("demo/reference-flight/runway.json"), "runway");
  request.touchdown_point = Feet{600.0};
  request.reported_wind = *read_wind_text("210/9");
  request.airplane =
      fit_airplane(*read_airplane_json(delivered("airplanes/generic-trainer.json"), "airplane"));
  request.standards = {*read_standard_json(delivered("standards/us-commercial-power-off-180.json"),
                                           "us-commercial-power-off-180.json")};
  request.marks = {AttemptMarks{}};
  request.marks[0].attempt = 3;
  request.marks[0].touchdown_seen = SeenPlace{90.0, 15.0};
  auto answer = make_debrief(request);
  EXPECT_TRUE(answer.debrief) << answer.reason;
  return {"/lessons/touch-and-goes.gpx", "generic-trainer", "Generic <trainer> & \"friends\"",
          *answer.debrief};
}

const DebriefedLog& lesson() {
  static const DebriefedLog one = debriefed();
  return one;
}

/// How often an element begins; -1 where the page is not well-formed.
int count_elements(const std::string& page, std::string_view name) {
  XmlPull xml(page);
  int count = 0;
  for (;;) {
    switch (xml.next()) {
      case XmlPull::Event::element_start:
        if (xml.name() == name) ++count;
        break;
      case XmlPull::Event::error:
        ADD_FAILURE() << xml.error() << " at byte " << xml.offset();
        return -1;
      case XmlPull::Event::end_of_document:
        return count;
      default:
        break;
    }
  }
}

TEST(Report, IsWellFormedAndHasASectionForEachAttempt) {
  const std::string page = debrief_report_html(lesson());
  // Safety, and three attempts.
  EXPECT_EQ(count_elements(page, "section"), 4);
  EXPECT_EQ(count_elements(page, "figure"), 6);
  EXPECT_EQ(count_elements(page, "h1"), 1);
  EXPECT_LT(page.size(), 600'000u);
}

TEST(Report, NeedsNothingElseAndRunsNothing) {
  const std::string page = debrief_report_html(lesson());
  for (const char* outside : {"http", "src=", "@import", "url(", "<script", "<link", "onload"})
    EXPECT_THAT(page, Not(HasSubstr(outside))) << outside;
}

TEST(Report, SameDebriefSameBytes) {
  EXPECT_EQ(debrief_report_html(lesson()), debrief_report_html(lesson()));
}

TEST(Report, SafetyStandsBeforeEveryScore) {
  const std::string page = debrief_report_html(lesson());
  EXPECT_LT(page.find("Safety first"), page.find("Runway ruler"));
  EXPECT_LT(page.find("Runway ruler"), page.find("<h3>Test</h3>"));
}

TEST(Report, NumbersAreTheDebriefsOwn) {
  const std::string page = debrief_report_html(lesson());
  for (const AttemptDebrief& one : lesson().debrief.attempts) {
    ASSERT_TRUE(one.touchdown);
    EXPECT_THAT(page, HasSubstr(feet_with_interval(one.touchdown->along_ft, one.touchdown->low95_ft,
                                                   one.touchdown->high95_ft)));
    ASSERT_FALSE(one.causes.causes.empty());
    for (const Cause& cause : one.causes.causes)
      EXPECT_THAT(page, HasSubstr(report::escaped(cause.sentence)));
  }
}

TEST(Report, WhatWasSeenAndWhatTheLogSaysStandSideBySide) {
  const std::string page = debrief_report_html(lesson());
  const AttemptDebrief& seen = lesson().debrief.attempts.at(2);
  EXPECT_THAT(page, HasSubstr("+90 ± 30 marked"));
  EXPECT_THAT(page, HasSubstr("log " + feet_with_interval(seen.touchdown_from_log->along_ft,
                                                          seen.touchdown_from_log->low95_ft,
                                                          seen.touchdown_from_log->high95_ft)));
}

TEST(Report, ForeignTextCannotBecomeMarkup) {
  DebriefedLog hostile = lesson();
  hostile.airplane_name = "<script>alert(1)</script>";
  hostile.file = "/x/\"><img onerror='x'>.gpx";
  hostile.debrief.attempts.front().lesson = "a < b & c\x01";
  const std::string page = debrief_report_html(hostile);
  EXPECT_EQ(count_elements(page, "script"), 0);
  EXPECT_EQ(count_elements(page, "img"), 0);
  EXPECT_THAT(page, HasSubstr("a &lt; b &amp; c</p>"));
}

TEST(Report, AnAttemptWithoutTouchdownCausesOrPathIsStillTold) {
  DebriefedLog bare = lesson();
  AttemptDebrief& one = bare.debrief.attempts.front();
  one.attempt.outcome = Outcome::go_around;
  one.touchdown.reset();
  one.causes = {};
  one.causes.not_offered_because = "Sent around: nothing was missed.";
  one.planned.reset();
  bare.debrief.track.states.clear();
  const std::string page = debrief_report_html(bare);
  EXPECT_EQ(count_elements(page, "figure"), 0);
  EXPECT_THAT(page, HasSubstr("went around"));
  EXPECT_THAT(page, HasSubstr("Sent around: nothing was missed."));
}

TEST(FeetScale, GrowsByWholeSteps) {
  report::FeetScale scale;
  EXPECT_EQ(scale.percent(0.0), 25.0);
  scale.include(-501.0);
  scale.include(1501.0);
  EXPECT_EQ(scale.low_ft(), -1000.0);
  EXPECT_EQ(scale.high_ft(), 2000.0);
  EXPECT_EQ(scale.marks_ft().size(), 7u);
}

TEST(Report, ShadesTheBandOnTheStripAndSaysWhenTheMeansRanOut) {
  DebriefedLog with_band = lesson();
  const std::string without = debrief_report_html(with_band);
  EXPECT_THAT(without, Not(HasSubstr("<polygon class=\"ribbon")));
  EXPECT_THAT(without, Not(HasSubstr("class=\"reach\"")));
  EXPECT_THAT(without, Not(HasSubstr("outside a thin line")));
  DebriefRequest request;
  request.airplane =
      fit_airplane(*read_airplane_json(delivered("airplanes/generic-trainer.json"), "airplane"));
  add_bands(with_band.debrief, request.airplane);
  const std::string page = debrief_report_html(with_band);
  EXPECT_GT(count_elements(page, "polygon"), 2);
  EXPECT_THAT(page, HasSubstr("shaded: from where the box could be reached"));
  EXPECT_THAT(page, HasSubstr("<polyline class=\"reach\""));
  EXPECT_THAT(page, HasSubstr("outside a thin line"));
  // The first landing was long, the third was seen in the box: only the first has something to say.
  EXPECT_THAT(page, HasSubstr("the path alone could not lose the height"));
  EXPECT_THAT(page, HasSubstr("slip no longer enough"));
  EXPECT_EQ(last_chances_sentence(with_band.debrief.attempts[2], with_band.debrief.box), "");
}

}  // namespace
}  // namespace glidewright

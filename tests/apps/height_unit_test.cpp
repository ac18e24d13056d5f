// Heights in the wrong unit: said, with the option that mends them, and mended by nothing else.

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "formats/track_log.hpp"
#include "formats/track_writers.hpp"
#include "program.hpp"
#include "tests/formats/test_files.hpp"

namespace glidewright {
namespace {

using nlohmann::json;
using testing::Contains;
using testing::HasSubstr;
using testing::Not;

constexpr const char* k_runway = "-31.7246522,81.9427774,182.3,2400,7000";

/// F22 by a device that writes feet where GPX has metres.
std::string in_feet() {
  TrackLog log = *read_track_log(test_file("flights/F22/F22.gpx"), "F22.gpx");
  for (Fix& fix : log.fixes) *fix.altitude_ft = *fix.altitude_ft / k_metres_per_foot;
  return write_gpx(log);
}

/// The same as a table whose header says feet, in metres.
std::string in_metres() {
  TrackLog log = *read_track_log(test_file("flights/F22/F22.gpx"), "F22.gpx");
  for (Fix& fix : log.fixes) *fix.altitude_ft = *fix.altitude_ft * k_metres_per_foot;
  return write_csv(log);
}

json debriefed(const std::string& log, const std::vector<std::string>& more = {}) {
  std::vector<std::string> arguments = {"debrief", log,     "--runway", k_runway, "--touchdown-point-ft",
                                        "600",     "--json"};
  arguments.insert(arguments.end(), more.begin(), more.end());
  const auto run = run_program(arguments);
  EXPECT_EQ(run.exit_code, 0) << run.errors;
  return json::parse(run.output);
}

std::vector<std::string> notes_of(const json& debrief) {
  return debrief.at("log").at("quality").at("notes").get<std::vector<std::string>>();
}

TEST(HeightUnitOption, DoubtedHeightsStayUntilTheOptionMendsThem) {
  const TemporaryFolder folder;
  const auto whole = debriefed("tests/data/flights/F22/F22.gpx");
  EXPECT_THAT(notes_of(whole), Not(Contains(HasSubstr("--height-unit"))));
  const std::pair<std::string, std::string> logs[] = {{folder.with("feet.gpx", in_feet()), "ft"},
                                                      {folder.with("metres.csv", in_metres()), "m"}};
  for (const auto& [log, unit] : logs) {
    SCOPED_TRACE(log);
    const auto asked = run_program({"debrief", log, "--runway", k_runway, "--touchdown-point-ft", "600"});
    EXPECT_THAT(asked.output + asked.errors, HasSubstr("--height-unit"));
    const auto mended = debriefed(log, {"--height-unit", unit});
    EXPECT_THAT(notes_of(mended), Contains(HasSubstr("as is said")));
    EXPECT_THAT(notes_of(mended), Not(Contains(HasSubstr("make sense only"))));
    ASSERT_EQ(mended.at("attempts").size(), whole.at("attempts").size());
    for (std::size_t i = 0; i < whole.at("attempts").size(); ++i) {
      // Written to a millimetre and shown to a foot.
      EXPECT_NEAR(mended["attempts"][i]["touchdown"]["along_ft"].get<double>(),
                  whole["attempts"][i]["touchdown"]["along_ft"].get<double>(), 1.0);
      EXPECT_EQ(mended["attempts"][i]["outcome"], whole["attempts"][i]["outcome"]);
    }
  }
}

TEST(HeightUnitOption, ConvertWritesTheHeightsThatAreMeant) {
  const TemporaryFolder folder;
  const auto log = folder.with("feet.gpx", in_feet());
  const auto to = folder.path() + "/mended.gpx";
  const auto run = run_program({"convert", log, "--height-unit", "ft", "--to", to});
  EXPECT_EQ(run.exit_code, 0) << run.errors;
  EXPECT_THAT(run.output, HasSubstr("heights are taken as feet, as is said, and not as metres"));
  const auto meant = *read_track_log(test_file("flights/F22/F22.gpx"), "F22.gpx");
  const auto mended = *read_track_log(bytes_of(to), "mended.gpx");
  ASSERT_EQ(mended.fixes.size(), meant.fixes.size());
  for (std::size_t i = 0; i < meant.fixes.size(); ++i)
    ASSERT_NEAR(*mended.fixes[i].altitude_ft, *meant.fixes[i].altitude_ft, 0.004);  // a millimetre
  const auto silent = run_program({"convert", log, "--to", folder.path() + "/as-it-is.gpx"});
  EXPECT_EQ(silent.exit_code, 0);
  const auto as_it_is = *read_track_log(bytes_of(folder.path() + "/as-it-is.gpx"), "as-it-is.gpx");
  EXPECT_NEAR(*as_it_is.fixes[0].altitude_ft, *meant.fixes[0].altitude_ft / 0.3048, 0.01);
}

TEST(HeightUnitOption, SaidAlsoWhereTheRunwayIsNotFoundForIt) {
  const TemporaryFolder folder;
  const auto run = run_program({"debrief", folder.with("feet.gpx", in_feet())});
  EXPECT_EQ(run.exit_code, 1);
  EXPECT_THAT(run.errors, HasSubstr("no runway was given"));
  EXPECT_THAT(run.errors, HasSubstr("--height-unit ft does"));
  EXPECT_THAT(run_program({"debrief", "tests/data/flights/F22/F22.gpx"}).errors,
              Not(HasSubstr("--height-unit")));
}

TEST(HeightUnitOption, AUnitThatChangesNothingSaysSo) {
  const auto notes = notes_of(debriefed("tests/data/flights/F22/F22.csv", {"--height-unit", "ft"}));
  EXPECT_THAT(notes, Contains(HasSubstr("read as feet anyway")));
  EXPECT_EQ(run_program({"debrief", "tests/data/flights/F22/F22.csv", "--height-unit", "km"}).exit_code, 2);
}

/// Told once, when the log is filed: whatever debriefs it again takes its heights in the same way.
class HeightUnitInRecords : public ::testing::Test {
 protected:
  ProgramRun record(std::vector<std::string> words, const std::string& file = "records") const {
    words.insert(words.begin(), "record");
    words.insert(words.end(), {"--records", folder.path() + "/" + file, "--by", "Demo Instructor"});
    return run_program(words);
  }
  ProgramRun file(const std::string& point, std::vector<std::string> more,
                  const std::string& records = "records") const {
    std::vector<std::string> words = {
        "file", log, "--runway", k_runway, "--student", "Demo Student", "--touchdown-point-ft", point};
    words.insert(words.end(), more.begin(), more.end());
    return record(words, records);
  }
  /// What counts of the last attempt.
  json newest(const std::string& records = "records", const std::string& standard = {}) const {
    std::vector<std::string> words = {"record", "show",      "Demo Student",
                                      "--json", "--records", folder.path() + "/" + records};
    if (!standard.empty()) words.insert(words.end(), {"--standard", standard});
    const auto run = run_program(words);
    EXPECT_EQ(run.exit_code, 0) << run.errors;
    return json::parse(run.output).at("student").at("attempts").back().at("assessments").back();
  }

  TemporaryFolder folder;
  const std::string log = folder.with("feet.gpx", in_feet());
};

TEST_F(HeightUnitInRecords, HoldForAnotherPointAnotherStandardAndAnArchive) {
  ASSERT_EQ(file("600", {"--height-unit", "ft", "--add-student"}).exit_code, 0);
  const json first = newest();
  EXPECT_EQ(first.at("height_unit"), "ft");
  const double along_ft = first.at("along_ft");
  // From a point 300 ft farther on. Rows are in tenths of a foot, and the log's touchdown does not depend on
  // it.
  const auto again = file("900", {});
  ASSERT_EQ(again.exit_code, 0) << again.errors;
  EXPECT_THAT(again.output, HasSubstr("feet.gpx taken in feet, as was told before"));
  EXPECT_EQ(newest().at("height_unit"), "ft");
  EXPECT_NEAR(newest().at("along_ft").get<double>(), along_ft - 300.0, 1.0);
  EXPECT_THAT(newest().at("reason").get<std::string>(), Not(HasSubstr("heights")));
  const std::string other_standard = "us-commercial-short-field";
  ASSERT_EQ(file("600", {"--standard", other_standard}).exit_code, 0);
  EXPECT_EQ(newest("records", other_standard).at("height_unit"), "ft");
  EXPECT_NEAR(newest("records", other_standard).at("along_ft").get<double>(), along_ft, 1.0);
  ASSERT_EQ(record({"export", folder.path() + "/all.zip", "--all"}).exit_code, 0);
  ASSERT_EQ(record({"import", folder.path() + "/all.zip"}, "other").exit_code, 0);
  ASSERT_EQ(file("700", {}, "other").exit_code, 0);
  EXPECT_EQ(newest("other").at("height_unit"), "ft");
  EXPECT_NEAR(newest("other").at("along_ft").get<double>(), along_ft - 100.0, 1.0);
}

/// What a debrief would say is said where a log is filed, too: nobody need file it wrong first.
TEST_F(HeightUnitInRecords, FilingSaysWhichOptionMendsThem) {
  const auto filed = file("600", {"--add-student"});
  EXPECT_EQ(filed.exit_code, 0) << filed.errors;
  EXPECT_THAT(filed.output, HasSubstr("feet.gpx is a poor log"));
  EXPECT_THAT(filed.output, HasSubstr("--height-unit ft does"));
  EXPECT_THAT(file("600", {"--height-unit", "ft"}).output, Not(HasSubstr("poor log")));
}

TEST_F(HeightUnitInRecords, WhatIsToldNowStandsAboveWhatWasToldBefore) {
  ASSERT_EQ(file("600", {"--height-unit", "m", "--add-student"}).exit_code, 0);
  const auto again = file("600", {"--height-unit", "ft"});
  EXPECT_THAT(again.output, Not(HasSubstr("as was told before")));
  EXPECT_EQ(newest().at("height_unit"), "ft");
  EXPECT_THAT(newest().at("reason").get<std::string>(), HasSubstr("heights in feet"));
  const auto shown = run_program({"record", "show", "Demo Student", "--records", folder.path() + "/records"});
  EXPECT_THAT(shown.output, HasSubstr("heights taken in feet"));
}

TEST_F(HeightUnitInRecords, ADrillFromOwnFlightsTakesThemToo) {
  ASSERT_EQ(file("600", {"--height-unit", "ft", "--add-student"}).exit_code, 0);
  const auto run = record({"drill", "Demo Student", "--runway", k_runway, "--json"});
  ASSERT_EQ(run.exit_code, 0) << run.errors;
  const json drill = json::parse(run.output);
  ASSERT_FALSE(drill.at("situations").empty());
  for (const json& one : drill.at("situations"))
    // As high as the airplane was: in feet taken as metres it would be thousands of feet up.
    EXPECT_LT(one.at("now").at("height_ft").get<double>(), 1500.0);
}

}  // namespace
}  // namespace glidewright

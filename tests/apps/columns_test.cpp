// The guess at a CSV's columns, confirmed, corrected, and given back.

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "program.hpp"
#include "tests/formats/test_files.hpp"

namespace glidewright {
namespace {

using testing::HasSubstr;

constexpr const char* k_csv = "tests/data/flights/F08/F08.csv";

TEST(Columns, TheSavedGuessGivesTheSameDebrief) {
  const TemporaryFolder folder;
  const auto guess = run_program({"debrief", k_csv, "--show-columns", "--json"});
  ASSERT_EQ(guess.exit_code, 0) << guess.errors;
  const auto file = folder.with("columns.json", guess.output);
  const auto without = run_program({"debrief", k_csv, "--json"});
  const auto with = run_program({"debrief", k_csv, "--columns", file, "--json"});
  EXPECT_EQ(with.exit_code, 0) << with.errors;
  EXPECT_EQ(with.output, without.output);
}

TEST(Columns, AHeaderThatNamesNoUnitIsShownAsAssumed) {
  const TemporaryFolder folder;
  const auto log =
      folder.with("a.csv", "time;lat;lon;altitude;colour\n2026-05-14T20:02:55Z;48,5;11;100;red\n");
  const auto run = run_program({"debrief", log, "--show-columns"});
  EXPECT_EQ(run.exit_code, 0) << run.errors;
  EXPECT_THAT(run.output, HasSubstr("semicolons; decimal comma"));
  EXPECT_THAT(run.output, HasSubstr("altitude, ft (assumed)"));
  EXPECT_THAT(run.output, HasSubstr("passed over"));
  EXPECT_THAT(run.output, HasSubstr("please check it"));
}

TEST(Columns, APanelIsReadAsMapped) {
  const TemporaryFolder folder;
  const auto panel = replaced(test_file("flights/F08/F08_avionics.csv"), "ias_kt", "Fahrt");
  const auto file = folder.with("panel.csv", panel);
  const auto guess = run_program({"debrief", "tests/data/flights/F08/F08.gpx", "--with",
                                  "tests/data/flights/F08/F08_avionics.csv", "--show-columns", "--json"});
  const auto columns = folder.with("columns.json", replaced(guess.output, "\"ias_kt\"", "\"Fahrt\""));
  const auto own = run_program({"debrief", "tests/data/flights/F08/F08.gpx", "--with",
                                "tests/data/flights/F08/F08_avionics.csv", "--json"});
  const auto mapped = run_program(
      {"debrief", "tests/data/flights/F08/F08.gpx", "--with", file, "--columns", columns, "--json"});
  EXPECT_EQ(mapped.exit_code, 0) << mapped.errors;
  EXPECT_EQ(mapped.output, own.output);
  const auto fitted = run_program({"fit", file, "--columns", columns, "--airplane", "demo-trainer"});
  EXPECT_EQ(fitted.exit_code, 0) << fitted.errors;
}

TEST(Columns, AMappingThatDoesNotFitTheLogSaysWhichColumn) {
  const TemporaryFolder folder;
  const auto columns = folder.with("columns.json", R"({"columns": [{"header": "Uhr", "is": "time"},
    {"header": "lat_deg", "is": "latitude"}, {"header": "lon_deg", "is": "longitude"}]})");
  const auto run = run_program({"debrief", k_csv, "--columns", columns});
  EXPECT_EQ(run.exit_code, 1);
  EXPECT_THAT(run.errors, HasSubstr("F08.csv:1: no column 'Uhr', which"));
}

}  // namespace
}  // namespace glidewright

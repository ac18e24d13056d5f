// A log converted is the same flight.

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "program.hpp"
#include "tests/formats/test_files.hpp"

namespace glidewright {
namespace {

using nlohmann::json;
using testing::HasSubstr;

constexpr const char* k_log = "tests/data/flights/F12/F12.nmea";

json attempts_of(const std::string& file) {
  const auto run = run_program({"debrief", file, "--json"});
  EXPECT_EQ(run.exit_code, 0) << run.errors;
  return json::parse(run.output).at("attempts");
}

TEST(Convert, TheDebriefStaysTheSame) {
  const TemporaryFolder folder;
  const auto touchdown = attempts_of(k_log).at(0).at("touchdown").at("along_ft").get<double>();
  for (const char* name : {"new.gpx", "new.csv"}) {
    const auto file = folder.path() + "/" + name;
    const auto run = run_program({"convert", k_log, "--to", file});
    ASSERT_EQ(run.exit_code, 0) << run.errors;
    EXPECT_THAT(run.output, HasSubstr("written to"));
    // Shown to a foot; places are rounded to a millimetre.
    EXPECT_NEAR(attempts_of(file).at(0).at("touchdown").at("along_ft").get<double>(), touchdown, 1.0);
  }
}

TEST(Convert, NeverReplacesAFileUnlessTold) {
  const TemporaryFolder folder;
  const auto file = folder.with("new.csv", "mine");
  const auto refused = run_program({"convert", k_log, "--to", file});
  EXPECT_EQ(refused.exit_code, 1);
  EXPECT_THAT(refused.errors, HasSubstr("is there already; --force replaces it"));
  EXPECT_EQ(bytes_of(file), "mine");
  EXPECT_EQ(run_program({"convert", k_log, "--to", file, "--force"}).exit_code, 0);
  EXPECT_THAT(bytes_of(file), HasSubstr("time_utc,lat_deg,lon_deg"));
}

TEST(Convert, SaysWhichEndingsThereAre) {
  const auto run = run_program({"convert", k_log, "--to", "new.doc"});
  EXPECT_EQ(run.exit_code, 2);
  EXPECT_THAT(run.errors, HasSubstr(".gpx, .csv or .geojson"));
}

TEST(Convert, SaysThatGpxLeavesThePanelOut) {
  const TemporaryFolder folder;
  const auto log = folder.with(
      "a.csv", "time_utc,lat,lon,ias_kt\n2026-05-14T20:02:55Z,48,11,60\n2026-05-14T20:02:56Z,48,11,60\n");
  const auto run = run_program({"convert", log, "--to", folder.path() + "/a.gpx"});
  EXPECT_THAT(run.output, HasSubstr("2 rows of the panel are left out"));
}

}  // namespace
}  // namespace glidewright

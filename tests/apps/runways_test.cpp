// Runway data as a user brings it in and names it.

#include <gtest/gtest.h>

#include <cmath>
#include <nlohmann/json.hpp>

#include "program.hpp"
#include "schema.hpp"

namespace glidewright {
namespace {

/// An invented airfield in the open table's columns.
const std::string k_table =
    "id,airport_ref,airport_ident,length_ft,width_ft,surface,lighted,closed,le_ident,le_latitude_deg,le_"
    "longitude_deg,"
    "le_elevation_ft,le_heading_degT,le_displaced_threshold_ft,he_ident,he_latitude_deg,he_longitude_deg,"
    "he_elevation_ft,he_heading_degT,he_displaced_threshold_ft\n"
    "1,1,\"ZZAA\",3628,75,\"ASPH\",0,0,\"18\",0.01,20,500,180,,\"36\",0,20,540,360,\n";

TEST(Runways, ImportedOnceTheyAreNamedByAirfieldAndDesignator) {
  const TemporaryFolder folder;
  const auto table = folder.with("table.csv", k_table);
  const Environment kept = {"GLIDEWRIGHT_RUNWAYS=" + folder.path() + "/user/runways.csv"};
  const auto before = run_program({"runways", "search", "ZZAA"}, kept);
  EXPECT_EQ(before.exit_code, 1);
  EXPECT_NE(before.errors.find("runways import"), std::string::npos) << before.errors;

  const auto import = run_program({"runways", "import", table}, kept);
  EXPECT_EQ(import.exit_code, 0) << import.errors;
  EXPECT_NE(import.output.find("2 landing directions of 1 runways"), std::string::npos) << import.output;

  const auto search =
      nlohmann::json::parse(run_program({"runways", "search", "zzaa", "--json"}, kept).output);
  ASSERT_EQ(search["runways"].size(), 2U);
  EXPECT_EQ(search["runways"][0]["designator"], "18");
  // Magnetic north lies where the model of the day has it; at 0 N 20 E a degree or two to the east or west.
  const double variation = search["runways"][0]["magnetic_variation_deg"];
  EXPECT_LT(std::abs(variation), 5.0);
  EXPECT_NEAR(search["runways"][0]["magnetic_bearing_deg"].get<double>(), 180.0 - variation, 0.51);
  EXPECT_EQ(search["runways"][0]["notes"].dump().find("its number says"), std::string::npos);

  const auto brief = run_program({"brief", "--runway", "ZZAA/18", "--wind", "180/5", "--json"}, kept);
  EXPECT_EQ(brief.exit_code, 0) << brief.errors;
  const auto wrong = run_program({"brief", "--runway", "ZZAA/09", "--wind", "180/5"}, kept);
  EXPECT_EQ(wrong.exit_code, 1);
  EXPECT_NE(wrong.errors.find("expected 18 or 36"), std::string::npos) << wrong.errors;
}

TEST(Runways, ANumberThatSaysAnotherDirectionThanTheCoordinatesIsDoubted) {
  const TemporaryFolder folder;
  std::string table = k_table;
  table.replace(table.find("\"18\""), 4, "\"09\"");
  const Environment kept = {"GLIDEWRIGHT_RUNWAYS=" + folder.with("runways.csv", table)};
  const auto search = run_program({"runways", "search", "ZZAA"}, kept);
  EXPECT_NE(search.output.find("its number says 090° magnetic"), std::string::npos) << search.output;
}

TEST(Runways, WithoutHeadingsTheBearingIsFromEndToEndElseItIsSaidWhyNot) {
  const TemporaryFolder folder;
  const auto table = k_table + "2,2,\"ZZBB\",2000,50,\"GRS\",0,0,\"09\",0,30,100,,,\"27\",0,30.005,100,,\n" +
                     "3,2,\"ZZBB\",2000,50,\"GRS\",0,0,\"01\",0,30,100,,,\"19\",,,,,\n";
  const Environment kept = {"GLIDEWRIGHT_RUNWAYS=" + folder.with("runways.csv", table)};
  const auto search =
      nlohmann::json::parse(run_program({"runways", "search", "ZZBB", "--json"}, kept).output);
  ASSERT_EQ(search["runways"].size(), 2U);
  EXPECT_NEAR(search["runways"][0]["true_bearing_deg"].get<double>(), 90.0, 0.1);
  EXPECT_NE(search["runways"][0]["notes"].dump().find("from the coordinates of both ends"),
            std::string::npos);
  ASSERT_EQ(search["left_out"].size(), 2U);
  EXPECT_EQ(search["left_out"][0]["designator"], "01");
  const auto said = run_program({"runways", "search", "ZZBB"}, kept);
  EXPECT_NE(said.output.find("ZZBB/19  left out: only one end has coordinates"), std::string::npos)
      << said.output;
  const auto brief = run_program({"brief", "--runway", "ZZBB/1", "--wind", "180/5"}, kept);
  EXPECT_EQ(brief.exit_code, 1);
  EXPECT_NE(brief.errors.find("ZZBB/01 of the runway data cannot be used: only one end"), std::string::npos)
      << brief.errors;
}

TEST(Runways, ATableThatIsNamedIsSearchedWithoutBeingImported) {
  const TemporaryFolder folder;
  const auto table = folder.with("table.csv", k_table);
  const Environment none = {"GLIDEWRIGHT_RUNWAYS=" + folder.path() + "/none.csv"};
  const auto search = run_program({"runways", "search", "ZZ", "--table", table, "--json"}, none);
  EXPECT_EQ(search.exit_code, 0) << search.errors;
  const auto told = nlohmann::json::parse(search.output);
  EXPECT_EQ(objections("runways", told), "");
  EXPECT_EQ(told["airfields"], nlohmann::json::array({"ZZAA"}));
  const auto other = run_program({"runways", "search", "ZZ", "--table", "README.md"}, none);
  EXPECT_EQ(other.exit_code, 1);
  EXPECT_NE(other.errors.find("README.md"), std::string::npos) << other.errors;
}

// 300 ft further north on the WGS-84 equator, where a degree of latitude is 110.574 km. 2e-7: the printed
// digits.
TEST(Runways, ARunwayOfOnesOwnIsShownAsItIsLandedOn) {
  const TemporaryFolder folder;
  const auto own = folder.with("own.json",
                               R"({"airfield": "Ours", "designator": "36", "threshold_latitude_deg": 0,
  "threshold_longitude_deg": 20, "true_bearing_deg": 360, "elevation_ft": 500, "length_ft": 3600, "displaced_ft": 300})");
  const auto run = run_program({"runways", "show", own, "--json"});
  EXPECT_EQ(run.exit_code, 0) << run.errors;
  const auto told = nlohmann::json::parse(run.output);
  EXPECT_EQ(objections("runways", told), "");
  EXPECT_EQ(told["runways"][0]["length_ft"], 3300);
  EXPECT_NEAR(told["runways"][0]["threshold_latitude_deg"].get<double>(), 300.0 * 0.3048 / 110574.0, 2e-7);
  const auto bad = run_program({"runways", "show", "54.5,2.5,400,82,4100"});
  EXPECT_EQ(bad.exit_code, 1);
  EXPECT_NE(bad.errors.find("true bearing 400"), std::string::npos) << bad.errors;
}

TEST(Runways, AFileThatIsNotTheTableLeavesWhatIsThere) {
  const TemporaryFolder folder;
  const Environment kept = {"GLIDEWRIGHT_RUNWAYS=" + folder.with("runways.csv", k_table)};
  const auto import = run_program({"runways", "import", "README.md"}, kept);
  EXPECT_EQ(import.exit_code, 1);
  EXPECT_NE(import.errors.find("no column airport_ident"), std::string::npos) << import.errors;
  EXPECT_EQ(run_program({"runways", "search", "ZZAA"}, kept).exit_code, 0);
}

}  // namespace
}  // namespace glidewright

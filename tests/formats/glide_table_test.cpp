#include "formats/glide_table.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/formats/test_files.hpp"

namespace glidewright {
namespace {

using testing::HasSubstr;

GlideTable table_of(const std::string& bytes) {
  const auto table = read_glide_table(bytes, "club.csv", {2300.0});
  EXPECT_TRUE(table) << table.error().sentence;
  return table ? *table : GlideTable{};
}

std::string error_of(const std::string& bytes) {
  const auto table = read_glide_table(bytes, "club.csv", {2300.0});
  return table ? "read" : table.error().sentence;
}

TEST(GlideTable, ColumnsInAnyOrderAndUnits) {
  const auto table = table_of(
      "# a Tuesday\n"
      "Weight [kg],note,CAS (km/h),flaps_deg,sink_mps,altitude_m,oat_c,bank_deg\n"
      "1000,calm,120,10,4,0,15,-20\n");
  ASSERT_EQ(table.glides.size(), 1U);
  const LoggedGlide& glide = table.glides[0];
  // Exact by definition: pound 0.45359237 kg, knot 1.852 km/h, foot 0.3048 m; tolerances are rounding here.
  EXPECT_NEAR(glide.weight_lb, 2204.6226, 1e-4);
  EXPECT_NEAR(glide.calibrated_airspeed_kt, 64.7948, 1e-4);
  EXPECT_NEAR(glide.sink_fpm, 787.4016, 1e-4);
  EXPECT_EQ(glide.flap_deg, 10.0);
  EXPECT_EQ(glide.bank_deg, -20.0);
  EXPECT_NEAR(glide.density_ratio, 1.0, 1e-9);
  EXPECT_EQ(glide.line, 3U);
  EXPECT_TRUE(table.notes.empty());
}

TEST(GlideTable, DescentAsRatioOrAngle) {
  // atan(1/9) = 6.340 degrees; half of the printed digit.
  EXPECT_NEAR(table_of("ias_kt,glide_ratio\n70,9\n").glides[0].angle_deg, 6.340, 0.0005);
  EXPECT_NEAR(table_of("ias_kt,glide_angle_deg\n70,6.34\n").glides[0].angle_deg, 6.34, 1e-12);
  EXPECT_NEAR(table_of("ias_kt,flight_path_angle_deg\n70,-6.34\n").glides[0].angle_deg, 6.34, 1e-12);
}

TEST(GlideTable, DensityAsGiven) {
  EXPECT_NEAR(table_of("cas_kt,sink_fpm,density_kg_m3\n70,800,1.1025\n").glides[0].density_ratio, 0.9, 1e-12);
  // US Standard Atmosphere 1976: 0.86167 at 5,000 ft.
  EXPECT_NEAR(table_of("cas_kt,sink_fpm,altitude_ft\n70,800,5000\n").glides[0].density_ratio, 0.86167, 5e-6);
}

TEST(GlideTable, SaysWhatItAssumed) {
  const auto table = table_of("cas_kt;sink_fpm\n70,5;800\n");
  EXPECT_EQ(table.glides[0].calibrated_airspeed_kt, 70.5);
  EXPECT_EQ(table.glides[0].weight_lb, 2300.0);
  EXPECT_EQ(table.notes.size(), 3U);
}

TEST(GlideTable, TheReferenceTables) {
  const auto straight = table_of(test_file("flights/glide.csv"));
  EXPECT_EQ(straight.glides.size(), 285U);  // 288 rows, three of them strayed from their speed
  EXPECT_THAT(straight.notes, testing::ElementsAre(HasSubstr("3 rows")));
  EXPECT_EQ(straight.glides[0].sink_fpm, 827.5);
  EXPECT_EQ(straight.glides[9].slip, 1.0);
  EXPECT_EQ(straight.glides[9].bank_deg, 0.0);  // the low wing of a slip is no turn
  const auto turns = table_of(test_file("flights/turn.csv"));
  EXPECT_EQ(turns.glides[0].sink_fpm, 819.1);  // the steady one, not that of the half circle
  EXPECT_EQ(turns.glides[0].bank_deg, 20.0);
}

TEST(GlideTable, NamesLineAndColumn) {
  EXPECT_EQ(error_of("cas_kt,sink_fpm\n70,800\n70,much\n"),
            "club.csv:3: column sink_fpm: 'much' is no number");
  EXPECT_EQ(error_of("cas_kt,sink_fpm\n70\n"), "club.csv:2: column sink_fpm is empty; expected a number");
  EXPECT_EQ(error_of("cas_kt,sink_fpm\n7,800\n"), "club.csv:2: column cas_kt: 7; expected 30 to 160");
  EXPECT_EQ(error_of("cas_kt,sink_fpm\n70,-800\n"),
            "club.csv:2: column sink_fpm: -800; expected 100 to 6000");
  EXPECT_THAT(error_of("cas_kt,sink_fpm,weight_kg\n70,800,60\n"),
              HasSubstr("column weight_kg: 60; expected 181.4 to 5670"));
  EXPECT_EQ(error_of("cas_kt,sink_fpm,slip\n70,800,some\n"), "club.csv:2: column slip: 'some' is no number");
  EXPECT_EQ(error_of("cas,sink_fpm\n70,800\n"),
            "club.csv:1: column 'cas' names no unit; expected cas_kt, cas_kts, cas_kmh, cas_mph, cas_mps");
  EXPECT_THAT(error_of("sink_fpm,flap_deg\n800,0\n"), HasSubstr("club.csv:1: no airspeed column"));
  EXPECT_THAT(error_of("cas_kt,flap_deg\n70,0\n"), HasSubstr("club.csv:1: no descent column"));
  EXPECT_THAT(error_of(""), HasSubstr("empty"));
  EXPECT_THAT(error_of("# only a remark\n\n"), HasSubstr("empty"));
}

TEST(GlideTable, IsKnownByItsColumns) {
  EXPECT_TRUE(is_glide_table("# x\nias_mean_kt,glide_ratio\n"));
  EXPECT_FALSE(is_glide_table("time_utc,ias_kt,baro_alt_ft\n"));
  EXPECT_FALSE(is_glide_table(""));
  EXPECT_FALSE(is_glide_table("<gpx>"));
}

}  // namespace
}  // namespace glidewright

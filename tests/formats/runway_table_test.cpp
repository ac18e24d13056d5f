#include "formats/runway_table.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "engine/track/geodesy.hpp"

namespace glidewright {
namespace {

using testing::Contains;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

const std::string k_header =
    "\"id\",\"airport_ref\",\"airport_ident\",\"length_ft\",\"width_ft\",\"surface\",\"lighted\",\"closed\","
    "\"le_ident\","
    "\"le_latitude_deg\",\"le_longitude_deg\",\"le_elevation_ft\",\"le_heading_degT\",\"le_displaced_"
    "threshold_ft\","
    "\"he_ident\",\"he_latitude_deg\",\"he_longitude_deg\",\"he_elevation_ft\",\"he_heading_degT\","
    "\"he_displaced_threshold_ft\"\n";

/// Invented airfields. At the equator a degree is 110,574 m north and 111,320 m east (WGS-84).
const std::string k_table =
    k_header +
    "1,1,\"ZZAA\",3628,75,\"ASPH\",0,0,\"18\",0.01,20,500,180,,\"36\",0,20,540,360,400\n"
    "2,2,\"ZZBB\",2000,50,\"GRS\",0,0,\"09\",0,30,100,90,,\"27\",,,,,\n"
    "3,3,\"ZZCC\",2000,50,\"GRS\",0,1,\"09\",0,30,100,90,,\"27\",0,30.005,100,270,\n"
    "4,4,\"ZZDD\",2000,50,\"GRS\",0,0,\"N\",,,,,,\"S\",,,,,\n"
    "5,5,\"ZZEE\",2000,50,\"GRS\",0,0,\"01\",0,40,,,,\"19\",,,,,\n"
    "6,6,\"ZZFF\",,50,\"GRS\",0,0,\"09\",0,50,100,,,\"27\",0,50.01,120,,\n"
    "7,7,\"ZZGG\",2000,50,\"GRS\",0,0,\"09\",0,50,100,90,,\"27\",0,50.0001,120,270,\n"
    "8,8,\"ZZHH\",,50,\"GRS\",0,0,\"09\",0,50,100,90,,\"27\",,,,,\n"
    "9,9,\"ZZII\",2000,50,\"GRS\",0,0,\"09\",0,50,100,90,1800,\"\",,,,,\n"
    "broken,row\n";

std::vector<RunwayEnd> ends_of(const std::string& ident) {
  const auto ends = runways_of(k_table, "t.csv", ident);
  EXPECT_TRUE(ends) << (ends ? "" : ends.error().sentence);
  return ends ? ends->ends : std::vector<RunwayEnd>{};
}

/// "09: why", for each end that is left out.
std::vector<std::string> left_out_of(const std::string& ident) {
  std::vector<std::string> said;
  const auto runways = runways_of(k_table, "t.csv", ident);
  for (const auto& end : runways->left_out) said.push_back(end.designator + ": " + end.reason);
  return said;
}

TEST(RunwayTable, WithoutAHeadingTheBearingIsThatFromEndToEnd) {
  const auto ends = ends_of("ZZFF");
  ASSERT_EQ(ends.size(), 2u);
  // Along the equator: due east, due west; 0.01 degrees of it are 1,113.2 m or 3,652 ft (WGS-84).
  EXPECT_NEAR(ends[0].runway.true_bearing.value, 90.0, 1e-6);
  EXPECT_NEAR(ends[1].runway.true_bearing.value, 270.0, 1e-6);
  EXPECT_NEAR(ends[0].runway.length.value, 3652.2, 0.2);
  EXPECT_THAT(ends[0].notes, Contains(HasSubstr("true bearing from the coordinates of both ends")));
  EXPECT_THAT(ends_of("ZZAA")[0].notes, testing::Not(Contains(HasSubstr("no heading in the table"))));
}

TEST(RunwayTable, SaysWhyAnEndIsLeftOut) {
  EXPECT_THAT(left_out_of("ZZAA"), IsEmpty());
  EXPECT_THAT(left_out_of("ZZCC"), ElementsAre("09: closed", "27: closed"));
  EXPECT_THAT(left_out_of("ZZDD"),
              ElementsAre("N: neither end has coordinates", "S: neither end has coordinates"));
  EXPECT_THAT(left_out_of("ZZEE"), testing::Each(HasSubstr("only one end has coordinates, and no heading")));
  EXPECT_THAT(left_out_of("ZZGG"), testing::Each(HasSubstr("its ends lie 37 ft apart")));
  EXPECT_THAT(left_out_of("ZZHH"), testing::Each(HasSubstr("no length between 300 and 20000 ft")));
  EXPECT_THAT(left_out_of("ZZII"), ElementsAre("09: 200 ft are left beyond its displaced threshold"));
}

TEST(RunwayTable, DirectionComesFromBothEnds) {
  const auto ends = ends_of("zzaa");
  ASSERT_EQ(ends.size(), 2u);
  const Runway& south = ends[0].runway;
  EXPECT_EQ(south.designator, "18");
  EXPECT_NEAR(south.true_bearing.value, 180.0, 1e-6);
  EXPECT_EQ(south.length.value, 3628.0);
  EXPECT_EQ(south.elevation.value, 500.0);
  EXPECT_NEAR(south.slope_percent, 40.0 / 3628.0 * 100.0, 1e-9);
  EXPECT_GE(south.position_sd.value, 60.0);
}

TEST(RunwayTable, ADisplacedThresholdIsWhereTheLandingBegins) {
  const Runway north = ends_of("ZZAA")[1].runway;
  EXPECT_EQ(north.designator, "36");
  EXPECT_NEAR(to_feet(geodesic_between({0.0, 20.0}, north.threshold).distance).value, 400.0, 0.5);
  EXPECT_EQ(north.length.value, 3228.0);
}

TEST(RunwayTable, AMissingEndIsPlacedFromTheOther) {
  const auto ends = ends_of("ZZBB");
  ASSERT_EQ(ends.size(), 2u);
  const RunwayEnd& west = ends[1];
  EXPECT_NEAR(west.runway.true_bearing.value, 270.0, 1e-9);
  EXPECT_NEAR(to_feet(geodesic_between({0.0, 30.0}, west.runway.threshold).distance).value, 2000.0, 0.5);
  EXPECT_THAT(west.notes, Contains(HasSubstr("no coordinates")));
  EXPECT_GE(west.runway.position_sd.value, 100.0);
}

TEST(RunwayTable, ClosedAndPlacelessAndDirectionlessAreLeftOut) {
  EXPECT_THAT(ends_of("ZZCC"), IsEmpty());
  EXPECT_THAT(ends_of("ZZDD"), IsEmpty());
  EXPECT_THAT(ends_of("ZZEE"), IsEmpty());
  EXPECT_THAT(ends_of("ZZ"), IsEmpty());
  const auto counts = check_runway_table(k_table, "t.csv");
  ASSERT_TRUE(counts);
  EXPECT_EQ(counts->rows, 10u);
  EXPECT_EQ(counts->ends, 6u);
  EXPECT_EQ(counts->closed, 1u);
  EXPECT_EQ(counts->without_place, 1u);
  EXPECT_EQ(counts->without_direction, 8u);
  EXPECT_EQ(counts->unreadable, 1u);
}

TEST(RunwayTable, EndsThatDisagreeWithTheLengthAreKnownWorse) {
  // 0.01 degrees are 3,628 ft; written as 4,628 the place is doubtful by half of the difference.
  std::string table = k_table;
  table.replace(table.find("3628"), 4, "4628");
  const auto ends = runways_of(table, "t.csv", "ZZAA");
  ASSERT_TRUE(ends);
  EXPECT_NEAR(ends->ends.front().runway.position_sd.value, 500.0, 1.0);
}

TEST(RunwayTable, SearchesIdents) {
  EXPECT_THAT(*idents_beginning(k_table, "t.csv", "zz", 3), ElementsAre("ZZAA", "ZZBB", "ZZCC"));
  EXPECT_THAT(*idents_beginning(k_table, "t.csv", "ZZE", 9), ElementsAre("ZZEE"));
}

TEST(RunwayTable, AnotherTableIsRefused) {
  const auto counts = check_runway_table("a,b\n1,2\n", "x.csv");
  ASSERT_FALSE(counts);
  EXPECT_THAT(counts.error().sentence, HasSubstr("x.csv:1: no column airport_ident"));
}

TEST(RunwayTable, NamesOfRunways) {
  EXPECT_TRUE(is_runway_name("EDXX/24L"));
  EXPECT_TRUE(is_runway_name("00AK/N"));
  EXPECT_FALSE(is_runway_name("data/harrow-fen-24.json"));
  EXPECT_FALSE(is_runway_name("EDXX"));
  EXPECT_FALSE(is_runway_name("a b/24"));
}

}  // namespace
}  // namespace glidewright

#include "formats/csv_mapping.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "formats/csv.hpp"
#include "formats/time.hpp"
#include "tests/formats/test_files.hpp"

namespace glidewright {
namespace {

using testing::Contains;
using testing::HasSubstr;

constexpr const char* k_club = R"({
  "schema": "glidewright.columns/1",
  "separator": ";", "decimal": "comma", "header_line": 3, "first_row_line": 5,
  "time_zone": "+02:00", "date_order": "day-month-year",
  "columns": [
    {"header": "Tag", "is": "date"}, {"header": "Uhr", "is": "time_of_day"},
    {"header": "Breite", "is": "latitude", "unit": "deg_min"}, {"header": "Laenge", "is": "longitude", "unit": "deg_min"},
    {"header": "Hoehe", "is": "altitude", "unit": "m"}, {"header": "Fahrt", "is": "groundspeed", "unit": "km/h"},
    {"header": "Aussen", "is": "outside_air_temperature", "unit": "F"}
  ]
})";

constexpr const char* k_club_log =
    "Ein Logger\n"
    "\n"
    "Uhr;Tag;Breite;Laenge;Hoehe;Fahrt;Aussen\n"
    "hh:mm:ss;tt.mm.jjjj;g;g;m;km/h;F\n"
    "22:02:55;14.05.2026;4830,6N;01115,0E;100,5;185,2;50\n"
    "22:02:56;14.05.2026;4830,6N;01115,0E;100,5;92,6;32\n";

std::string error_of(const std::string& json, const std::string& log = k_club_log) {
  const auto mapping = read_csv_mapping_json(json, "m.json");
  if (!mapping) return mapping.error().sentence;
  const auto read = read_csv(log, "f.csv", &*mapping);
  return read ? "read" : read.error().sentence;
}

TEST(CsvMapping, ReadsALogThatNoGuessCanRead) {
  ASSERT_FALSE(read_csv(k_club_log, "f.csv"));
  const auto mapping = read_csv_mapping_json(k_club, "m.json");
  ASSERT_TRUE(mapping) << mapping.error().sentence;
  const auto log = read_csv(k_club_log, "f.csv", &*mapping);
  ASSERT_TRUE(log) << log.error().sentence;
  ASSERT_EQ(log->fixes.size(), 2U);
  EXPECT_EQ(log->fixes[0].time_unix_s, *unix_seconds("2026-05-14T20:02:55Z"));
  EXPECT_DOUBLE_EQ(log->fixes[0].place.latitude_deg, 48.51);  // 30.6 minutes
  EXPECT_DOUBLE_EQ(log->fixes[0].place.longitude_deg, 11.25);
  EXPECT_NEAR(*log->fixes[0].altitude_ft, 329.724, 5e-4);   // 100.5 / 0.3048, six digits
  EXPECT_NEAR(*log->fixes[0].groundspeed_kt, 100.0, 1e-9);  // 1 kt is 1.852 km/h
  ASSERT_EQ(log->panel.size(), 2U);
  EXPECT_NEAR(*log->panel[0].outside_air_temperature_c, 10.0, 1e-9);  // 50 F
  EXPECT_NEAR(*log->panel[1].outside_air_temperature_c, 0.0, 1e-9);   // 32 F
  EXPECT_TRUE(log->notes.empty());
}

TEST(CsvMapping, ColumnsByNumberWhereThereIsNoHeader) {
  const std::string json = R"({"header_line": 0, "first_row_line": 1, "columns": [
    {"number": 1, "is": "unix_time"}, {"number": 4, "is": "latitude"}, {"number": 3, "is": "longitude"}]})";
  const auto mapping = read_csv_mapping_json(json, "m.json");
  ASSERT_TRUE(mapping) << mapping.error().sentence;
  const auto log = read_csv("1778788975,x,11,48\n1778788976,x,11,48\n", "f.csv", &*mapping);
  ASSERT_TRUE(log) << log.error().sentence;
  EXPECT_EQ(log->fixes[0].place.latitude_deg, 48.0);
  EXPECT_EQ(log->fixes[0].place.longitude_deg, 11.0);
}

TEST(CsvMapping, ADayForALogOfTimesGoesOnPastMidnight) {
  const std::string json = R"({"date": "2026-05-14", "columns": [{"header": "t", "is": "time_of_day"},
    {"header": "a", "is": "latitude"}, {"header": "o", "is": "longitude"}]})";
  const auto mapping = read_csv_mapping_json(json, "m.json");
  ASSERT_TRUE(mapping) << mapping.error().sentence;
  const auto log = read_csv("t,a,o\n23:59:59,48,11\n00:00:01,48,11\n", "f.csv", &*mapping);
  ASSERT_TRUE(log) << log.error().sentence;
  EXPECT_EQ(log->fixes[1].time_unix_s, *unix_seconds("2026-05-15T00:00:01Z"));
  EXPECT_EQ(log->fixes[1].time_unix_s - log->fixes[0].time_unix_s, 2.0);
}

TEST(CsvMapping, SaysWhatIsWrongWithTheMappingAndWhere) {
  const std::string good = k_club;
  EXPECT_EQ(error_of(good), "read");
  EXPECT_EQ(error_of(replaced(good, "\"is\": \"altitude\", \"unit\": \"m\"",
                              "\"is\": \"altitude\", \"unit\": \"kg\"")),
            "m.json:8: unit 'kg' for altitude; expected ft or m");
  EXPECT_THAT(error_of(replaced(good, "\"is\": \"date\"", "\"is\": \"day\"")),
              HasSubstr("m.json:6: is 'day'; expected one of time, time_of_day, date"));
  EXPECT_THAT(error_of(replaced(good, "+02:00", "CEST")),
              HasSubstr("m.json:4: time_zone 'CEST'; expected UTC or"));
  EXPECT_THAT(error_of(replaced(good, "day-month-year", "dmy")), HasSubstr("m.json:4: date_order 'dmy'"));
  EXPECT_THAT(error_of(replaced(good, "\"separator\": \";\"", "\"separator\": \"x\"")),
              HasSubstr("separator 'x'"));
  EXPECT_THAT(error_of(replaced(good, "\"header_line\": 3", "\"header_line\": 5")),
              HasSubstr("not below header_line"));
  EXPECT_THAT(error_of(replaced(good, "\"is\": \"altitude\", \"unit\": \"m\"", "\"is\": \"date\"")),
              HasSubstr("two columns are date"));
}

TEST(CsvMapping, SaysWhatTheLogLacks) {
  const std::string good = k_club;
  EXPECT_THAT(
      error_of(replaced(good, "\"Hoehe\"", "\"Alt\"")),
      HasSubstr("f.csv:3: no column 'Alt', which m.json names; the columns are 'Uhr', 'Tag', 'Breite'"));
  EXPECT_THAT(error_of(good, "a\n"), HasSubstr("f.csv: has no line 3, where m.json has the header row"));
  EXPECT_THAT(error_of(replaced(good, "\"is\": \"latitude\", \"unit\": \"deg_min\"", "\"is\": \"roll\"")),
              HasSubstr("read"));  // temperature and roll alone are a panel
  EXPECT_EQ(error_of(good, replaced(k_club_log, "4830,6N", "9930,6N")),
            "f.csv:5: column 3 'Breite': latitude 9930,6N; expected -90 to 90");
}

TEST(CsvMapping, TheGuessSavedAndGivenBackReadsTheSame) {
  const std::string zoned =
      "Remark;Time;Latitude;Longitude;Altitude (m);Speed [km/h]\n"
      "x;14.05.2026 20:02:55;48,5;11,25;100;185,2\n"
      "x;14.05.2026 20:02:56;48,6;11,25;200;92,6\n";
  for (const auto& bytes :
       {test_file("flights/F08/F08.csv"), test_file("flights/F08/F08_avionics.csv"), zoned}) {
    const auto shown = show_csv_columns(bytes, "f.csv", nullptr);
    ASSERT_TRUE(shown) << shown.error().sentence;
    const auto mapping = read_csv_mapping_json(csv_mapping_to_json(shown->header).dump(2), "m.json");
    ASSERT_TRUE(mapping) << mapping.error().sentence;
    const auto guessed = read_csv(bytes, "f.csv");
    const auto mapped = read_csv(bytes, "f.csv", &*mapping);
    ASSERT_TRUE(guessed);
    ASSERT_TRUE(mapped) << mapped.error().sentence;
    ASSERT_EQ(mapped->fixes.size(), guessed->fixes.size());
    ASSERT_EQ(mapped->panel.size(), guessed->panel.size());
    for (std::size_t i = 0; i < guessed->fixes.size(); ++i) {
      ASSERT_EQ(mapped->fixes[i].time_unix_s, guessed->fixes[i].time_unix_s);
      ASSERT_EQ(mapped->fixes[i].place.latitude_deg, guessed->fixes[i].place.latitude_deg);
      ASSERT_EQ(mapped->fixes[i].altitude_ft, guessed->fixes[i].altitude_ft);
      ASSERT_EQ(mapped->fixes[i].groundspeed_kt, guessed->fixes[i].groundspeed_kt);
    }
  }
}

TEST(CsvGuess, UnitsFromALineOfTheirOwn) {
  const std::string names = "time_utc,lat,lon,altitude,ground speed\n";
  const std::string units = "utc,deg,deg,m,km/h\n";
  const std::string rows = "2026-05-14T20:02:55Z,48,11,100,185.2\n2026-05-14T20:02:56Z,48,11,100,185.2\n";
  for (const auto& bytes : {names + units + rows, "#" + units + names + rows, units + names + rows}) {
    const auto log = read_csv(bytes, "f.csv");
    ASSERT_TRUE(log) << log.error().sentence;
    EXPECT_EQ(log->fixes.size(), 2U);
    EXPECT_NEAR(*log->fixes[0].altitude_ft, 328.084, 5e-4);   // 100 / 0.3048, six digits
    EXPECT_NEAR(*log->fixes[0].groundspeed_kt, 100.0, 1e-9);  // 1 kt is 1.852 km/h
    EXPECT_TRUE(log->notes.empty()) << log->notes.front();
  }
}

TEST(CsvGuess, DatesSettleTheirOrder) {
  const auto first_time = [](const std::string& date_of_two, const std::string& later) {
    const auto log =
        read_csv("time,lat,lon\n" + date_of_two + " 20:02:55Z,48,11\n" + later + " 20:02:55Z,48,11\n", "f");
    return log ? log->fixes.front().time_unix_s : 0.0;
  };
  EXPECT_EQ(first_time("03/05/2026", "14/05/2026"), *unix_seconds("2026-05-03T20:02:55Z"));
  EXPECT_EQ(first_time("05/03/2026", "05/14/2026"), *unix_seconds("2026-05-03T20:02:55Z"));
}

TEST(CsvGuess, DatesThatCanBeReadTwoWaysAreSaid) {
  const auto log = read_csv("time,lat,lon\n03/05/2026 20:02:55Z,48,11\n04/05/2026 20:02:55Z,48,11\n", "f");
  ASSERT_TRUE(log);
  EXPECT_EQ(log->fixes.front().time_unix_s, *unix_seconds("2026-05-03T20:02:55Z"));
  EXPECT_THAT(log->notes, Contains("dates can be read two ways; taken as day before month"));
}

TEST(CsvGuess, AnOffsetColumnMakesLocalTimeUtc) {
  const auto log = read_csv(
      "local date,local time,utc "
      "offset,lat,lon\n2026-05-14,22:02:55,+02:00,48,11\n2026-05-14,22:02:56,+02:00,48,11\n",
      "f");
  ASSERT_TRUE(log) << log.error().sentence;
  EXPECT_EQ(log->fixes.front().time_unix_s, *unix_seconds("2026-05-14T20:02:55Z"));
  EXPECT_TRUE(log->notes.empty());
}

TEST(CsvGuess, LocalTimeWithoutAnOffsetIsSaid) {
  const auto log =
      read_csv("local date,local time,lat,lon\n2026-05-14,22:02:55,48,11\n2026-05-14,22:02:56,48,11\n", "f");
  ASSERT_TRUE(log) << log.error().sentence;
  EXPECT_THAT(log->notes, Contains("times name no zone; taken as UTC"));
}

TEST(CsvGuess, DegreesAndMinutesWithLetters) {
  const auto log = read_csv(
      "time_utc,lat,lon\n2026-05-14T20:02:55Z,48\xC2\xB0 30.6' N,11\xC2\xB0 15.0' W\n"
      "2026-05-14T20:02:56Z,48\xC2\xB0 30.6' N,11\xC2\xB0 15.0' W\n",
      "f");
  ASSERT_TRUE(log) << log.error().sentence;
  EXPECT_DOUBLE_EQ(log->fixes.front().place.latitude_deg, 48.51);
  EXPECT_DOUBLE_EQ(log->fixes.front().place.longitude_deg, -11.25);
}

TEST(CsvGuess, SegmentsByTheirColumn) {
  const auto log = read_csv(
      "time_utc,lat,lon,segment\n2026-05-14T20:02:55Z,48,11,a\n2026-05-14T20:02:56Z,48,11,a\n"
      "2026-05-14T20:02:57Z,48,11,b\n",
      "f");
  ASSERT_TRUE(log) << log.error().sentence;
  EXPECT_EQ(log->fixes[1].segment, 0U);
  EXPECT_EQ(log->fixes[2].segment, 1U);
}

}  // namespace
}  // namespace glidewright

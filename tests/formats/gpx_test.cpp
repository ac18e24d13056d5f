#include "formats/gpx.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "formats/time.hpp"

namespace glidewright {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;

std::string point(int second, const std::string& inside = "<ele>100</ele>") {
  return "<trkpt lat=\"48." + std::to_string(100 + second) + "\" lon=\"11.5\">" + inside +
         "<time>2026-05-14T20:02:" + std::to_string(10 + second) + "Z</time></trkpt>\n";
}

std::string gpx(const std::string& points) {
  return "<?xml version=\"1.0\"?>\n<gpx version=\"1.1\">\n<trk><trkseg>\n" + points +
         "</trkseg></trk></gpx>\n";
}

std::string error_of(const std::string& bytes) {
  const auto log = read_gpx(bytes, "f.gpx");
  return log ? "read" : log.error().sentence;
}

// GPX 1.1 schema, wptType: lat and lon decimal degrees WGS 84, ele metres, time UTC with optional fractions.
TEST(Gpx, PointAsTheSchemaDescribesIt) {
  const auto log = read_gpx(gpx("<trkpt lat=\"46.57608333\" lon=\"8.89241667\"><ele>2376</ele>"
                                "<time>2007-10-14T10:09:57.5Z</time></trkpt>" +
                                point(1)),
                            "f.gpx");
  ASSERT_TRUE(log);
  const auto& fix = log->fixes.at(0);
  EXPECT_EQ(log->format, "gpx");
  EXPECT_EQ(fix.place.latitude_deg, 46.57608333);
  EXPECT_EQ(fix.place.longitude_deg, 8.89241667);
  EXPECT_DOUBLE_EQ(*fix.altitude_ft, 2376 / 0.3048);
  EXPECT_EQ(fix.time_unix_s, *unix_seconds("2007-10-14T10:09:57.5Z"));
  EXPECT_FALSE(fix.groundspeed_kt);
  EXPECT_TRUE(log->notes.empty());
}

// GPX 1.1 schema, trksegType: a lost signal starts a new segment; it is never joined.
TEST(Gpx, SegmentsAreCountedAndEmptyOnesAreNot) {
  const auto log = read_gpx(gpx(point(1) + "</trkseg><trkseg></trkseg><trkseg>" + point(2) +
                                "</trkseg></trk><trk><trkseg>" + point(3)),
                            "f.gpx");
  ASSERT_TRUE(log);
  ASSERT_EQ(log->fixes.size(), 3u);
  EXPECT_EQ(log->fixes[0].segment, 0u);
  EXPECT_EQ(log->fixes[1].segment, 1u);
  EXPECT_EQ(log->fixes[2].segment, 2u);
}

// GPX 1.0 has speed in m/s and course in degrees; 1.1 files carry them in extensions.
TEST(Gpx, SpeedAndCourseOfEitherVersion) {
  const auto log = read_gpx(
      gpx(point(1, "<course>360</course><speed>10</speed>") +
          point(2, "<extensions><x:Ext><x:speed>10</x:speed><x:course>-1</x:course></x:Ext></extensions>")),
      "f.gpx");
  ASSERT_TRUE(log);
  EXPECT_NEAR(*log->fixes[0].groundspeed_kt, 19.4384, 5e-5);  // 10 x 3600 / 1852, four digits
  EXPECT_EQ(*log->fixes[0].course_true_deg, 0.0);
  EXPECT_NEAR(*log->fixes[1].groundspeed_kt, 19.4384, 5e-5);
  EXPECT_FALSE(log->fixes[1].course_true_deg);
}

TEST(Gpx, RoutesAndWaypointsAreNoTrack) {
  const std::string others =
      "<wpt lat=\"1\" lon=\"2\"><time>2026-05-14T20:02:55Z</time></wpt>"
      "<rte><rtept lat=\"1\" lon=\"2\"/></rte>";
  EXPECT_THAT(error_of("<gpx>" + others + "</gpx>"), HasSubstr("without track points"));
  const auto log =
      read_gpx("<gpx>" + others + "<trk><trkseg>" + point(1) + point(2) + "</trkseg></trk></gpx>", "f");
  ASSERT_TRUE(log);
  EXPECT_EQ(log->fixes.size(), 2u);
}

TEST(Gpx, RepairsAreTold) {
  const auto log =
      read_gpx(gpx(point(5) + point(3) + point(6) + point(6) + point(6) + point(7, "<ele>x</ele>") +
                   "<trkpt lat=\"0\" lon=\"0\"><time>2026-05-14T20:02:30Z</time></trkpt>\n" +
                   "<trkpt lat=\"1\" lon=\"0\"></trkpt>\n" + point(8)),
               "f.gpx");
  ASSERT_TRUE(log);
  EXPECT_EQ(log->fixes.size(), 4u);
  EXPECT_THAT(log->notes,
              ElementsAre("2 fixes with repeated times dropped (first at line 7)",
                          "line 5: time ran backwards, fix dropped", "line 11: no time, fix dropped",
                          "line 10: latitude 0 and longitude 0 (no position yet), fix dropped",
                          "line 9: altitude cannot be read, left out"));
}

TEST(Gpx, OneWildTimeCostsOneFix) {
  const std::string wild = "<trkpt lat=\"48\" lon=\"11\"><time>2099-01-01T00:00:00Z</time></trkpt>\n";
  const auto log = read_gpx(gpx(wild + point(1) + point(2) + point(3)), "f.gpx");
  ASSERT_TRUE(log);
  EXPECT_EQ(log->fixes.size(), 3u);
  EXPECT_THAT(log->notes, ElementsAre("line 4: time ran backwards, fix dropped"));
}

TEST(Gpx, NewestTrackFirstIsSorted) {
  const auto log = read_gpx(gpx(point(5) + point(6) + "</trkseg><trkseg>" + point(1) + point(2)), "f.gpx");
  ASSERT_TRUE(log);
  ASSERT_EQ(log->fixes.size(), 4u);
  EXPECT_LT(log->fixes[1].time_unix_s, log->fixes[2].time_unix_s);
  EXPECT_EQ(log->fixes[0].segment, 0u);
  EXPECT_EQ(log->fixes[3].segment, 1u);
  EXPECT_THAT(log->notes, ElementsAre("line 6: track segment out of order in time, sorted"));
}

TEST(Gpx, TruncatedFileKeepsWhatStands) {
  const auto whole = gpx(point(1) + point(2) + point(3));
  const auto log = read_gpx(whole.substr(0, whole.find("48.103") + 3), "f.gpx");
  ASSERT_TRUE(log);
  EXPECT_EQ(log->fixes.size(), 2u);
  EXPECT_THAT(log->notes,
              ElementsAre("line 6: the file ends inside an attribute; the 2 fixes before it are kept"));
  EXPECT_EQ(error_of(whole.substr(0, whole.find("48.102"))), "f.gpx:5: the file ends inside an attribute");
}

TEST(Gpx, ErrorsNameLineAndRange) {
  EXPECT_EQ(error_of(gpx(point(1) + "<trkpt lat=\"98.2\" lon=\"11\"/>")),
            "f.gpx:5: latitude 98.2; expected -90 to 90");
  EXPECT_EQ(error_of(gpx("<trkpt lat=\"48\" lon=\"-181\"/>")),
            "f.gpx:4: longitude -181; expected -180 to 180");
  EXPECT_EQ(error_of(gpx("<trkpt lat=\"NaN\" lon=\"1\"/>")), "f.gpx:4: latitude NaN; expected -90 to 90");
  EXPECT_EQ(error_of(gpx("<trkpt lon=\"1\"/>")), "f.gpx:4: no latitude; expected -90 to 90");
  EXPECT_EQ(error_of(gpx("<trkpt lat=\"1\" lon=\"1\"/>")),
            "f.gpx: no track point has a time; expected <time> in each <trkpt>");
  EXPECT_THAT(error_of(gpx("<trkpt lat=\"1\" lon=\"1\"><time>noon</time></trkpt>")),
              HasSubstr("f.gpx:4: time cannot be read"));
  EXPECT_EQ(error_of(gpx(point(1))),
            "f.gpx: only one fix is usable with a time of its own; expected at least 2");
  EXPECT_EQ(error_of(gpx(point(9) + point(8) + point(7) + point(6))),
            "f.gpx: time runs backwards at 3 of 4 fixes; expected rising times");
  EXPECT_EQ(error_of("<kml></kml>"), "f.gpx:1: XML with root element <kml>; expected <gpx>");
  EXPECT_THAT(error_of(gpx("<trkpt lat=\"&bomb;\" lon=\"1\"/>")), HasSubstr("f.gpx:4: '&bomb'"));
  EXPECT_THAT(error_of("<!DOCTYPE gpx [<!ENTITY a \"aaaa\">]>\n<gpx>&a;</gpx>"),
              HasSubstr("which is refused"));
}

}  // namespace
}  // namespace glidewright

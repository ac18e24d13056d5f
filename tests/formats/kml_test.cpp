#include "formats/kml.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "formats/time.hpp"

namespace glidewright {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;

std::string track(const std::string& inside, const std::string& mode = "absolute") {
  return "<gx:Track><altitudeMode>" + mode + "</altitudeMode>\n" + inside + "</gx:Track>\n";
}
std::string kml(const std::string& inside) {
  return "<?xml version=\"1.0\"?>\n<kml xmlns:gx=\"g\"><Document><Placemark>\n" + inside +
         "</Placemark></Document></kml>\n";
}
const std::string k_two =
    "<when>2019-11-07T08:44:12Z</when><when>2019-11-07T08:44:13.5Z</when>"
    "<gx:coord>0.309042 46.586349 111.4</gx:coord><gx:coord>0.309043 46.586350 111.5</gx:coord>";

std::string error_of(const std::string& bytes) {
  const auto log = read_kml(bytes, "f.kml");
  return log ? "read" : log.error().sentence;
}

// OGC KML 2.3, Track: longitude first, blanks between, one when for each coord.
TEST(Kml, LongitudeStandsFirst) {
  const auto log = read_kml(kml(track(k_two)), "f.kml");
  ASSERT_TRUE(log) << log.error().sentence;
  const Fix& fix = log->fixes.front();
  EXPECT_EQ(log->format, "kml");
  EXPECT_EQ(fix.place.latitude_deg, 46.586349);
  EXPECT_EQ(fix.place.longitude_deg, 0.309042);
  EXPECT_NEAR(*fix.altitude_ft, 111.4 / 0.3048, 1e-9);
  EXPECT_EQ(fix.time_unix_s, *unix_seconds("2019-11-07T08:44:12Z"));
  EXPECT_EQ(log->fixes.back().time_unix_s, *unix_seconds("2019-11-07T08:44:13.5Z"));
  EXPECT_TRUE(log->notes.empty());
}

TEST(Kml, TracksOfAMultiTrackAreSegments) {
  const std::string later =
      "<when>2019-11-07T08:50:00Z</when><when>2019-11-07T08:50:01Z</when>"
      "<gx:coord>1 46 1</gx:coord><gx:coord>1 46 1</gx:coord>";
  const auto log =
      read_kml(kml("<gx:MultiTrack>" + track(k_two) + track(later) + "</gx:MultiTrack>"), "f.kml");
  ASSERT_TRUE(log) << log.error().sentence;
  ASSERT_EQ(log->fixes.size(), 4u);
  EXPECT_EQ(log->fixes[1].segment, 0u);
  EXPECT_EQ(log->fixes[2].segment, 1u);
}

TEST(Kml, HeightsThatAreNotAbsoluteAreLeftOut) {
  const auto log = read_kml(kml(track(k_two, "clampToGround")), "f.kml");
  ASSERT_TRUE(log) << log.error().sentence;
  EXPECT_FALSE(log->fixes.front().altitude_ft);
  EXPECT_THAT(log->notes, ElementsAre(HasSubstr("altitudeMode")));
}

TEST(Kml, AReceiverWithoutAPositionLeavesThePlaceEmpty) {
  const auto log =
      read_kml(kml(track("<when>2019-11-07T08:44:11Z</when><gx:coord></gx:coord>" + k_two)), "f.kml");
  ASSERT_TRUE(log) << log.error().sentence;
  EXPECT_EQ(log->fixes.size(), 2u);
  EXPECT_THAT(log->notes, ElementsAre(HasSubstr("no position yet")));
}

TEST(Kml, SaysWhatIsWrongAndWhere) {
  EXPECT_EQ(error_of(kml(track("<when>2019-11-07T08:44:11Z</when>" + k_two))),
            "f.kml:3: a Track has 3 times (when) and 2 places (coord); expected as many");
  EXPECT_EQ(error_of(kml("<LineString><coordinates>1,2,3</coordinates></LineString>")),
            "f.kml: KML with a path but no times; expected a Track with when and coord");
  EXPECT_EQ(error_of(kml("")), "f.kml: KML without a track; expected a Track with when and coord");
  EXPECT_THAT(error_of(kml(track("<when>2019-11-07T08:44:12Z</when><gx:coord>0.3 146.5 1</gx:coord>"))),
              HasSubstr("f.kml:4: latitude 146.5"));
}

TEST(Kml, ATruncatedFileGivesTheWholePairs) {
  const std::string whole = kml(track(k_two + "<gx:coord>0.309044 46.5"));
  const auto log = read_kml(whole.substr(0, whole.find("46.5", whole.find("0.309044"))), "f.kml");
  ASSERT_TRUE(log) << log.error().sentence;
  EXPECT_EQ(log->fixes.size(), 2u);
  EXPECT_THAT(log->notes, ElementsAre(HasSubstr("the 2 fixes before it are kept")));
}

}  // namespace
}  // namespace glidewright

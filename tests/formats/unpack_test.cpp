#include "formats/unpack.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "formats/sha256.hpp"
#include "formats/track_log.hpp"
#include "tests/formats/packed.hpp"
#include "tests/formats/test_files.hpp"

namespace glidewright {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;

std::string sentence(const std::string& bytes, const UnpackLimits& limits = {}) {
  const auto unpacked = unpack(bytes, "f", limits);
  return unpacked ? "unpacked" : unpacked.error().sentence;
}

void expect_same_log(const TrackLog& a, const TrackLog& b) {
  EXPECT_EQ(a.format, b.format);
  EXPECT_EQ(a.sha256, b.sha256);
  EXPECT_EQ(a.notes, b.notes);
  ASSERT_EQ(a.fixes.size(), b.fixes.size());
  for (std::size_t i = 0; i < a.fixes.size(); ++i) {
    ASSERT_EQ(a.fixes[i].time_unix_s, b.fixes[i].time_unix_s);
    ASSERT_EQ(a.fixes[i].place.latitude_deg, b.fixes[i].place.latitude_deg);
    ASSERT_EQ(a.fixes[i].altitude_ft, b.fixes[i].altitude_ft);
  }
}

TEST(Unpack, EveryFormatReadsThroughGzipAsWithoutIt) {
  for (const char* file : {"F03/F03.gpx", "F03/F03.csv", "F03/F03.igc", "F11/F11.kml", "F12/F12.nmea"}) {
    SCOPED_TRACE(file);
    const auto bytes = test_file(std::string("flights/") + file);
    const auto plain = read_track_log(bytes, "f");
    const auto packed = read_track_log(gzipped(bytes), "f.gz");
    ASSERT_TRUE(plain);
    ASSERT_TRUE(packed) << packed.error().sentence;
    expect_same_log(*packed, *plain);
  }
}

TEST(Unpack, APanelReadsThroughGzip) {
  const auto bytes = test_file("flights/F08/F08_avionics.csv");
  const auto plain = read_panel(bytes, "f");
  const auto packed = read_panel(gzipped(bytes), "f");
  ASSERT_TRUE(packed);
  EXPECT_EQ(packed->size(), plain->size());
  EXPECT_EQ(packed->back().indicated_airspeed_kt, plain->back().indicated_airspeed_kt);
}

TEST(Unpack, KmzGivesItsDocument) {
  const auto kml = test_file("flights/F11/F11.kml");
  const auto packed =
      read_track_log(zipped({{"files/photo.jpg", "x"}, {"a.kml", "<kml/>"}, {"doc.kml", kml}}), "f");
  ASSERT_TRUE(packed) << packed.error().sentence;
  expect_same_log(*packed, *read_track_log(kml, "f"));
}

TEST(Unpack, WithoutDocKmlTheFirstKmlCounts) {
  const auto unpacked = unpack(zipped({{"icon.png", "x"}, {"Track.KML", "first"}, {"b.kml", "second"}}), "f");
  ASSERT_TRUE(unpacked);
  EXPECT_EQ(unpacked->bytes, "first");
  EXPECT_EQ(unpacked->name, "f/Track.KML");
}

TEST(Unpack, AZipOfOneLogIsThatLog) {
  const auto igc = test_file("flights/F03/F03.igc");
  const auto log = read_track_log(zipped({{"logs/", ""}, {"logs/one.igc", igc}}), "f");
  ASSERT_TRUE(log) << log.error().sentence;
  EXPECT_EQ(log->format, "igc");
}

TEST(Unpack, AZipOfSeveralLogsIsNotGuessedAt) {
  EXPECT_EQ(sentence(zipped({{"a.gpx", "x"}, {"b.gpx", "y"}})),
            "f: zip archive of 2 files; expected one log, or KML (a .kmz); unpack it first");
  EXPECT_EQ(sentence(zipped({{"logs/", ""}})), "f: zip archive without files; expected a log in it");
}

TEST(Unpack, ALockedZipSaysSo) {
  EXPECT_EQ(sentence(test_file("packed/locked.zip")),
            "f: lesson.gpx in the zip archive is locked with a password; expected it without");
}

TEST(Unpack, MembersOfGzipFollowEachOther) {
  const auto unpacked = unpack(gzipped("one,") + gzipped("two") + std::string(512, '\0'), "f");
  ASSERT_TRUE(unpacked);
  EXPECT_EQ(unpacked->bytes, "one,two");
  EXPECT_TRUE(unpacked->notes.empty());
}

TEST(Unpack, WhatFollowsGzipIsPassedOverAndSaid) {
  const auto unpacked = unpack(gzipped("one") + "tail", "f");
  ASSERT_TRUE(unpacked);
  EXPECT_EQ(unpacked->bytes, "one");
  EXPECT_THAT(unpacked->notes, ElementsAre("4 bytes after the end of gzip passed over"));
}

TEST(Unpack, AGzipCutOffKeepsTheFixesBeforeTheCut) {
  const auto packed = gzipped(test_file("flights/F03/F03.gpx"));
  const auto log = read_track_log(packed.substr(0, packed.size() / 2), "f");
  ASSERT_TRUE(log) << log.error().sentence;
  const auto whole = read_track_log(packed, "f");
  EXPECT_LT(log->fixes.size(), whole->fixes.size());
  EXPECT_GT(log->fixes.size(), whole->fixes.size() / 4);
  EXPECT_THAT(log->notes.front(), HasSubstr("gzip ends early"));
}

TEST(Unpack, DamageIsRefused) {
  auto packed = gzipped(test_file("flights/F03/F03.gpx"));
  packed[packed.size() - 6] ^= 1;  // in the checksum: the last 8 bytes are CRC and length
  EXPECT_THAT(sentence(packed), HasSubstr("gzip is damaged near byte"));
  EXPECT_THAT(sentence("\x1F\x8B"), HasSubstr("ends before anything could be unpacked"));
  EXPECT_THAT(sentence(std::string("\x1F\x8B\x07\x00", 4) + std::string(40, 'x')), HasSubstr("damaged"));
  auto archive = zipped({{"doc.kml", test_file("flights/F11/F11.kml")}});
  archive[archive.size() / 2] ^= 0x55;
  EXPECT_EQ(sentence(archive), "f: doc.kml in the zip archive is damaged; expected it as it was packed");
  EXPECT_EQ(sentence(archive.substr(0, 200)), "f: zip archive is damaged; expected it as it was packed");
}

TEST(Unpack, BombsAreRefused) {
  const std::string zeros(std::size_t{16} << 20, '\0');
  EXPECT_EQ(sentence(gzipped(zeros)), "f: unpacks to more than 200 times its size, which no track log does");
  EXPECT_EQ(sentence(zipped({{"doc.kml", zeros}})),
            "f: doc.kml in the zip archive unpacks to more than 200 times its size, which no track log does");
}

TEST(Unpack, TheLimitIsOnWhatComesOutWhateverTheRatio) {
  UnpackLimits limits;
  limits.largest_bytes = std::size_t{1} << 20;
  std::string text;
  for (int i = 0; text.size() < (std::size_t{2} << 20); ++i) text += std::to_string(i * 7919) + ",";
  EXPECT_EQ(sentence(gzipped(text), limits), "f: unpacks to more than 1 MB; expected a track log");
  EXPECT_EQ(sentence(zipped({{"a.csv", text}}), limits),
            "f: a.csv in the zip archive unpacks to more than 1 MB; expected a track log");
}

TEST(Unpack, OnlyOneLayerIsTakenOff) {
  const auto log = read_track_log(gzipped(gzipped("x")), "f");
  ASSERT_FALSE(log);
  EXPECT_THAT(log.error().sentence, HasSubstr("packed with gzip twice"));
}

}  // namespace
}  // namespace glidewright

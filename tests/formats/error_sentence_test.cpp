// What every reader does with a damaged file: it reads it, or says in one sentence which file and where.

#include <gtest/gtest.h>

#include <functional>
#include <random>
#include <regex>

#include "formats/airplane_json.hpp"
#include "formats/gpx.hpp"
#include "formats/runway_json.hpp"
#include "formats/standard_json.hpp"
#include "formats/technique_json.hpp"
#include "formats/track_log.hpp"
#include "tests/formats/test_files.hpp"
#include "tests/where.hpp"

namespace glidewright {
namespace {

/// The error's sentence, empty where the bytes were read.
using Reader = std::function<std::string(const std::string& bytes, const std::string& name)>;

template <class Read>
Reader sentence_of(Read read) {
  return [read](const std::string& bytes, const std::string& name) {
    const auto result = read(bytes, name);
    return result ? std::string() : result.error().sentence;
  };
}

/// One byte lost, changed or doubled, the rest cut off, or a line lost.
std::string damaged(std::string bytes, std::mt19937& random) {
  const auto any = [&](std::size_t below) { return static_cast<std::size_t>(random() % below); };
  if (bytes.empty()) return bytes;
  const std::size_t at = any(bytes.size());
  static const std::string signs = "\"{}[],:<>/&;-+.eE0919 \n\tx\x80";
  switch (any(5)) {
    case 0:
      bytes.erase(at, 1);
      break;
    case 1:
      bytes[at] = signs[any(signs.size())];
      break;
    case 2:
      bytes.insert(at, 1, signs[any(signs.size())]);
      break;
    case 3:
      bytes.resize(at);
      break;
    default: {
      const auto line = bytes.find('\n', at);
      if (line != std::string::npos) bytes.erase(line, bytes.find('\n', line + 1) - line);
    }
  }
  return bytes;
}

void expect_sentences(const Reader& read, const std::string& good, const std::string& name,
                      const std::regex& form, int rounds) {
  ASSERT_EQ(read(good, name), "");
  std::mt19937 random(20260514);
  int refused = 0;
  for (int round = 0; round < rounds; ++round) {
    const auto bytes = damaged(damaged(good, random), random);
    const auto sentence = read(bytes, name);
    if (sentence.empty()) continue;
    ++refused;
    EXPECT_TRUE(std::regex_match(sentence, form)) << sentence;
    EXPECT_LT(sentence.size(), 400u) << sentence;  // a sentence on a terminal, not a dump
  }
  EXPECT_GT(refused, 0) << name;
}

// Values and structure of a JSON profile: always a line. No full stop at the end, no line break inside.
const std::regex k_with_line(R"(d\.json:[1-9][0-9]*: [^\n]*[^.\n])");
// A log may be wrong as a whole ("no track point has a time"), which is on no line.
const std::regex k_with_file(R"(d\.(gpx|csv)(:[1-9][0-9]*)?: [^\n]*[^.\n])");

TEST(ErrorSentence, OfAirplanesNamesFileAndLine) {
  for (const auto& path : delivered_files("airplanes")) {
    expect_sentences(sentence_of(read_airplane_json), bytes_of(path), "d.json", k_with_line, 400);
  }
}

TEST(ErrorSentence, OfStandardsNamesFileAndLine) {
  for (const auto& path : delivered_files("standards")) {
    expect_sentences(sentence_of(read_standard_json), bytes_of(path), "d.json", k_with_line, 200);
  }
}

TEST(ErrorSentence, OfRunwaysNamesFileAndLine) {
  const auto path = std::filesystem::path(where::data()) / "demo/harrow-fen-24.json";
  expect_sentences(sentence_of(read_runway_json), bytes_of(path), "d.json", k_with_line, 800);
}

TEST(ErrorSentence, OfTechniquesNamesFileAndLine) {
  const std::string technique =
      "{\n\"schema\": \"glidewright.technique/1\",\n\"spacing_ft\": 3000,\n\"flaps\": [\n"
      "{\"setting_deg\": 10, \"when\": \"wings-level-base\"},\n"
      "{\"setting_deg\": 30, \"when\": \"at-height\", \"height_ft\": 400, \"only_if_high_enough\": "
      "true}\n],\n"
      "\"slip\": {\"in_height_ft\": 400, \"out_height_ft\": 150}\n}\n";
  expect_sentences(sentence_of(read_technique_json), technique, "d.json", k_with_line, 800);
}

TEST(ErrorSentence, OfTrackLogsNamesTheFile) {
  const std::string gpx =
      "<?xml version=\"1.0\"?>\n<gpx version=\"1.1\">\n<trk><trkseg>\n"
      "<trkpt lat=\"48.1\" lon=\"11.5\"><ele>100</ele><time>2026-05-14T20:02:10Z</time></trkpt>\n"
      "<trkpt lat=\"48.2\" lon=\"11.5\"><ele>100</ele><time>2026-05-14T20:02:11Z</time></trkpt>\n"
      "</trkseg></trk></gpx>\n";
  expect_sentences(sentence_of([](std::string_view b, std::string_view n) { return read_track_log(b, n); }),
                   gpx, "d.gpx", k_with_file, 3000);
  const std::string csv =
      "time_utc,lat_deg,lon_deg,alt_gnss_ft\n2026-05-14T20:02:10Z,48.1,11.5,100\n2026-05-14T20:02:11Z,48.2,"
      "11.5,100\n";
  expect_sentences(sentence_of([](std::string_view b, std::string_view n) { return read_track_log(b, n); }),
                   csv, "d.csv", k_with_file, 3000);
}

}  // namespace
}  // namespace glidewright

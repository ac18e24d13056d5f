#include "formats/archive.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/formats/packed.hpp"
#include "tests/formats/zip64.hpp"

namespace glidewright {
namespace {

using ::testing::HasSubstr;

std::string refusal(const std::string& bytes, std::size_t largest_bytes = k_largest_archive_bytes) {
  const auto files = unzip_archive(bytes, "x.zip", largest_bytes);
  return files ? "taken" : files.error().sentence;
}

TEST(Archive, TheSameFilesGiveTheSameBytesAndComeBack) {
  const ArchivedFiles files{
      {"records.json", "{}"}, {"logs/דוגמה", std::string(100000, 'x')}, {"logs/empty", ""}};
  const auto bytes = zip_archive(files);
  ASSERT_TRUE(bytes) << bytes.error().sentence;
  EXPECT_EQ(*zip_archive(files), *bytes);
  const auto again = unzip_archive(*bytes, "x.zip");
  ASSERT_TRUE(again) << again.error().sentence;
  EXPECT_EQ(*again, files);
}

/// A school with its logs: more than the 65,535 files that the first form of zip can count.
TEST(Archive, MoreFilesThan16BitsCountComeBack) {
  ArchivedFiles files;
  for (int i = 0; i < 70000; ++i) files["logs/" + std::to_string(i)] = std::to_string(7 * i);
  const auto bytes = zip_archive(files);
  ASSERT_TRUE(bytes) << bytes.error().sentence;
  EXPECT_NE(bytes->find("PK\x06\x06"), std::string::npos) << "the record that counts them";
  const auto again = unzip_archive(*bytes, "x.zip");
  ASSERT_TRUE(again) << again.error().sentence;
  EXPECT_TRUE(*again == files);
}

TEST(Archive, AnotherProgramsZip64IsTaken) {
  const auto files = unzip_archive(zip64_archive({{"logs/", ""}, {"logs/a", "one"}, {"b", "two"}}), "x.zip");
  ASSERT_TRUE(files) << files.error().sentence;
  EXPECT_EQ(*files, (ArchivedFiles{{"logs/a", "one"}, {"b", "two"}}));
}

TEST(Archive, AZip64ArchiveThatContradictsItselfIsRefused) {
  for (const auto& [wrong, bytes] : damaged_zip64())
    EXPECT_EQ(refusal(bytes), "x.zip: is no zip archive, or a damaged one; a whole one was expected")
        << wrong;
  for (const auto& [wrong, bytes] : zip64_with_a_damaged_file())
    EXPECT_THAT(refusal(bytes), HasSubstr("damaged")) << wrong;
}

TEST(Archive, WhatLeadsOutOfItOrComesTwiceIsNoneOfOurs) {
  for (const char* name : {"../x", "/x", "a/../../x", "..", "a\\x"})
    EXPECT_THAT(refusal(zip64_archive({{name, "x"}})), HasSubstr("is none of ours")) << name;
  EXPECT_THAT(refusal(zip64_archive({{"x", "1"}, {"x", "2"}})), HasSubstr("is none of ours"));
}

TEST(Archive, NothingIsPackedThatCouldNotBeTakenOutAgain) {
  const ArchivedFiles files{{"a", std::string(600000, 'x')}, {"b", std::string(600000, 'y')}};
  const auto bytes = zip_archive(files);
  ASSERT_TRUE(bytes);
  constexpr std::size_t k_mb = std::size_t{1} << 20;
  EXPECT_EQ(refusal(*bytes, k_mb), "x.zip: unpacks to more than 1 MB");
  const auto refused = zip_archive(files, k_mb);
  ASSERT_FALSE(refused);
  EXPECT_EQ(refused.error().sentence, "the archive cannot be packed: it would unpack to more than 1 MB");
}

}  // namespace
}  // namespace glidewright

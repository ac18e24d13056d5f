#include "formats/zip_entries.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "formats/unpack.hpp"
#include "tests/formats/packed.hpp"
#include "tests/formats/zip64.hpp"

namespace glidewright {
namespace {

using Files = std::vector<std::pair<std::string, std::string>>;
using ::testing::ElementsAre;

/// The whole of one entry; "damaged" where it cannot be had.
std::string content(ZipEntries& archive, std::size_t index) {
  if (archive.open(index) != ZipEntries::Opened::yes) return "damaged";
  std::string bytes;
  for (;;) {
    const auto piece = archive.next();
    if (!piece) return "damaged";
    if (piece->empty()) return bytes;
    bytes += *piece;
  }
}

/// More than the 65,535 that the first form of zip can count.
Files many() {
  Files files;
  for (int i = 0; i < 70000; ++i) files.emplace_back("logs/" + std::to_string(i), std::to_string(7 * i));
  return files;
}

TEST(ZipEntries, Zip64IsReadWhateverTheSize) {
  const std::string bytes =
      zip64_archive({{"a/", ""}, {"a/one.gpx", "one"}, {"דוגמה", "two"}, {"empty", ""}});
  ZipEntries archive(bytes);
  ASSERT_TRUE(archive.names());
  EXPECT_THAT(*archive.names(), ElementsAre("a/", "a/one.gpx", "דוגמה", "empty"));
  EXPECT_EQ(content(archive, 1), "one");
  EXPECT_EQ(content(archive, 2), "two");
  EXPECT_EQ(content(archive, 3), "");
}

TEST(ZipEntries, MoreFilesThan16BitsCountAreAllThere) {
  const Files files = many();
  for (const std::string& bytes : {zip64_archive(files), zipped(files)}) {
    ZipEntries archive(bytes);
    ASSERT_TRUE(archive.names());
    ASSERT_EQ(archive.names()->size(), files.size());
    // Across the limit, and at both ends.
    for (const std::size_t i :
         {std::size_t{0}, std::size_t{65534}, std::size_t{65535}, std::size_t{65536}, files.size() - 1}) {
      EXPECT_EQ(archive.names()->at(i), files[i].first);
      EXPECT_EQ(content(archive, i), files[i].second);
    }
  }
}

/// 65,535 is also what stands there where zip64 has the count.
TEST(ZipEntries, AsManyFilesAs16BitsCountNeedNoZip64) {
  Files files = many();
  files.resize(65535);
  std::string bytes = zipped(files);
  const auto zip64_end = bytes.rfind("PK\x06\x06");
  // The library may have written zip64 for that count; without it the same archive is as right.
  if (zip64_end != std::string::npos) bytes.erase(zip64_end, 56 + 20);
  ZipEntries archive(bytes);
  ASSERT_TRUE(archive.names());
  EXPECT_EQ(archive.names()->size(), files.size());
  EXPECT_EQ(content(archive, 65534), files.back().second);
}

TEST(ZipEntries, AZip64ArchiveThatContradictsItselfIsRefused) {
  for (const auto& [wrong, bytes] : damaged_zip64()) {
    SCOPED_TRACE(wrong);
    EXPECT_FALSE(ZipEntries(bytes).names());
    const auto unpacked = unpack(bytes, "f");
    ASSERT_FALSE(unpacked);
    EXPECT_EQ(unpacked.error().sentence, "f: zip archive is damaged; expected it as it was packed");
  }
}

TEST(ZipEntries, AFileThatZip64PutsElsewhereIsRefused) {
  for (const auto& [wrong, bytes] : zip64_with_a_damaged_file()) {
    SCOPED_TRACE(wrong);
    ZipEntries archive(bytes);
    if (archive.names()) {
      EXPECT_EQ(content(archive, 0), "damaged");
    }
    EXPECT_FALSE(unpack(bytes, "f"));
  }
}

}  // namespace
}  // namespace glidewright

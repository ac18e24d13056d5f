#pragma once
// Zip archives as programs write them that always use zip64, whatever the size, byte by byte by the public
// specification (APPNOTE 6.3.3: 4.3.7, 4.3.12, 4.3.14 to 4.3.16, 4.5.3): no library of ours has a part in it.

#include <zlib.h>

#include <cstdint>
#include <string>
#include <utility>
#include <vector>

namespace glidewright {

inline std::string little_endian(std::uint64_t value, unsigned width) {
  std::string bytes;
  for (unsigned i = 0; i < width; ++i) {
    bytes += static_cast<char>(value & 0xFF);
    value >>= 8;
  }
  return bytes;
}

inline constexpr std::uint64_t k_elsewhere_16 = 0xFFFF, k_elsewhere_32 = 0xFFFFFFFF;

/// Stored, with every size, place and count in the fields of zip64 alone.
inline std::string zip64_archive(const std::vector<std::pair<std::string, std::string>>& files) {
  std::string archive, contents;
  for (const auto& [name, bytes] : files) {
    const auto checksum =
        crc32(0, reinterpret_cast<const Bytef*>(bytes.data()), static_cast<uInt>(bytes.size()));
    // Version 4.5, name in UTF-8, stored, 1980-01-01.
    const std::string head = little_endian(45, 2) + little_endian(1 << 11, 2) + little_endian(0, 2) +
                             little_endian(0, 2) + little_endian((1 << 5) | 1, 2) +
                             little_endian(checksum, 4) + little_endian(k_elsewhere_32, 4) +
                             little_endian(k_elsewhere_32, 4) + little_endian(name.size(), 2);
    const std::string sizes = little_endian(bytes.size(), 8) + little_endian(bytes.size(), 8);
    const std::string place = little_endian(archive.size(), 8);
    archive += "PK\x03\x04" + head + little_endian(4 + sizes.size(), 2) + name + little_endian(1, 2) +
               little_endian(sizes.size(), 2) + sizes + bytes;
    contents += "PK\x01\x02" + little_endian(45, 2) + head + little_endian(4 + 24, 2) + little_endian(0, 10) +
                little_endian(k_elsewhere_32, 4) + name + little_endian(1, 2) + little_endian(24, 2) + sizes +
                place;
  }
  const std::uint64_t contents_at = archive.size(), end_at = contents_at + contents.size();
  archive += contents;
  archive += "PK\x06\x06" + little_endian(44, 8) + little_endian(45, 2) + little_endian(45, 2) +
             little_endian(0, 8) + little_endian(files.size(), 8) + little_endian(files.size(), 8) +
             little_endian(contents.size(), 8) + little_endian(contents_at, 8);
  archive += "PK\x06\x07" + little_endian(0, 4) + little_endian(end_at, 8) + little_endian(1, 4);
  return archive + "PK\x05\x06" + little_endian(0, 4) + little_endian(k_elsewhere_16, 2) +
         little_endian(k_elsewhere_16, 2) + little_endian(k_elsewhere_32, 4) +
         little_endian(k_elsewhere_32, 4) + little_endian(0, 2);
}

/// With one number of it written over: `offset` bytes after the last place where `signature` stands.
inline std::string with_number(std::string archive, const std::string& signature, std::size_t offset,
                               std::uint64_t value, unsigned width) {
  return archive.replace(archive.rfind(signature) + offset, width, little_endian(value, width));
}

/// What a damaged zip64 archive may claim, and what is wrong with it.
inline std::vector<std::pair<std::string, std::string>> damaged_zip64() {
  const std::string whole = zip64_archive({{"doc.kml", "<kml/>"}});
  const std::string contents = "PK\x01\x02", end = "PK\x06\x06", place = "PK\x06\x07";
  constexpr std::uint64_t k_beyond = std::uint64_t{1} << 40, k_most = ~std::uint64_t{0};
  const std::size_t extra = 46 + std::string("doc.kml").size();
  return {{"its end lies beyond it", with_number(whole, place, 8, k_beyond, 8)},
          {"its end lies beyond any number", with_number(whole, place, 8, k_most, 8)},
          {"its end lies where none is", with_number(whole, place, 8, 0, 8)},
          {"more files than it has room for",
           with_number(with_number(whole, end, 24, k_beyond, 8), end, 32, k_beyond, 8)},
          {"two counts of files", with_number(whole, end, 24, 2, 8)},
          {"its contents lie beyond it", with_number(whole, end, 48, k_beyond, 8)},
          {"its contents lie beyond any number", with_number(whole, end, 48, k_most, 8)},
          {"its contents are larger than it", with_number(whole, end, 40, k_beyond, 8)},
          {"no field of zip64 at its file", with_number(whole, contents, extra, 2, 2)},
          {"a field of zip64 that is too short", with_number(whole, contents, extra + 2, 8, 2)},
          {"a field that is longer than there is room", with_number(whole, contents, extra + 2, 25, 2)}};
}

/// The same of the one file in it, which is only seen when it is opened.
inline std::vector<std::pair<std::string, std::string>> zip64_with_a_damaged_file() {
  const std::string whole = zip64_archive({{"doc.kml", "<kml/>"}});
  const std::string contents = "PK\x01\x02";
  constexpr std::uint64_t k_beyond = std::uint64_t{1} << 40, k_most = ~std::uint64_t{0};
  const std::size_t sizes = 46 + std::string("doc.kml").size() + 4;
  return {{"it lies beyond the archive", with_number(whole, contents, sizes + 16, k_beyond, 8)},
          {"it is longer than the archive", with_number(whole, contents, sizes + 8, k_beyond, 8)},
          {"it is longer than any number", with_number(whole, contents, sizes + 8, k_most, 8)},
          {"it unpacks to another size", with_number(whole, contents, sizes, 7, 8)}};
}

}  // namespace glidewright

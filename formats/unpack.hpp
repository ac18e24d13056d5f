#pragma once
// Logs that come packed: gzip, or a zip archive as KMZ is one.

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "formats/result.hpp"

namespace glidewright {

/// How far unpacking goes before it is refused. Four hours at 10 Hz are 25 MB as GPX, and track logs shrink 5
/// to 30 times; deflate can at most make one byte out of 1,032.
struct UnpackLimits {
  std::size_t largest_bytes = std::size_t{256} << 20;
  std::size_t largest_ratio = 200;
  std::size_t ratio_counts_from_bytes = std::size_t{4} << 20;  ///< below it any ratio is harmless
};

/// What was inside.
struct Unpacked {
  std::string bytes;
  std::string name;                ///< "lesson.gpx.gz", or "lesson.kmz/doc.kml"
  std::vector<std::string> notes;  ///< what is missing of it, in plain words
};

/// Do the bytes begin as gzip or a zip archive does?
bool is_packed(std::string_view bytes);

/// The log inside. Memory: what comes out, at most the limits, besides the bytes themselves.
///
/// gzip: all members one after the other; one that ends early gives what could be unpacked, with a note, one
/// whose checksum does not agree is refused. Zip: "doc.kml", else the first .kml, else the only file there
/// is; stored or deflated. Only one layer is taken off. Source: RFC 1952; OGC KML 2.3 (12-007r2), annex on
/// KMZ.
Result<Unpacked> unpack(std::string_view bytes, std::string_view name, const UnpackLimits& limits = {});

/// The same, and the bytes themselves where they are not packed.
Result<Unpacked> unpack_where_packed(std::string bytes, std::string_view name);

}  // namespace glidewright

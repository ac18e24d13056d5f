#pragma once
// Zip archives of many files, in memory.

#include <map>
#include <string>
#include <string_view>

#include "formats/result.hpp"

namespace glidewright {

/// Files by their name in the archive.
using ArchivedFiles = std::map<std::string, std::string>;

/// What comes out of an archive at most: it is held in memory.
constexpr std::size_t k_largest_archive_bytes = std::size_t{4} << 30;

/// The same files give the same bytes: no times, in the order of their names. Any number of files; refused
/// where they are more than could be taken out again.
Result<std::string> zip_archive(const ArchivedFiles& files,
                                std::size_t largest_bytes = k_largest_archive_bytes);

/// All files of an archive, zip64 or not; refused where a name leads out of it ("../x", "/x"), comes twice,
/// or more than `largest_bytes` would come out.
Result<ArchivedFiles> unzip_archive(std::string_view bytes, std::string_view name,
                                    std::size_t largest_bytes = k_largest_archive_bytes);

}  // namespace glidewright

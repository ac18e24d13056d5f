#pragma once
// Zip archives of many files, in memory.

#include <map>
#include <string>
#include <string_view>

#include "formats/result.hpp"

namespace glidewright {

/// Files by their name in the archive.
using ArchivedFiles = std::map<std::string, std::string>;

/// The same files give the same bytes: no times, in the order of their names.
Result<std::string> zip_archive(const ArchivedFiles& files);

/// All files of an archive; refused where a name leads out of it ("../x", "/x"), comes twice, or more than
/// `largest_bytes` would come out.
Result<ArchivedFiles> unzip_archive(std::string_view bytes, std::string_view name,
                                    std::size_t largest_bytes = std::size_t{4} << 30);

}  // namespace glidewright

#pragma once
// Whole files in and out.

#include <functional>
#include <optional>
#include <string>
#include <string_view>

#include "formats/result.hpp"

namespace glidewright {

/// All bytes of a file; what is wrong otherwise ("x.gpx: no such file").
Result<std::string> read_file(const std::string& path);

/// A file in pieces of up to a megabyte, for what need not be in memory as a whole. `take` ends it by what is
/// wrong.
std::optional<Error> read_file_in_pieces(const std::string& path,
                                         const std::function<std::optional<Error>(std::string_view)>& take);

/// Writes beside the target and renames, so that a reader sees the old file or the new one, never half of
/// either. Returns what went wrong, or none; then the target is as it was.
std::optional<Error> write_file_atomically(const std::string& path, std::string_view bytes);

/// The same for a file that must not be there yet.
std::optional<Error> write_new_file_atomically(const std::string& path, std::string_view bytes);

}  // namespace glidewright

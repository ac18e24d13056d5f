#pragma once
// Whole files in and out.

#include <optional>
#include <string>
#include <string_view>

#include "formats/result.hpp"

namespace glidewright {

/// All bytes of a file; what is wrong otherwise ("x.gpx: no such file").
Result<std::string> read_file(const std::string& path);

/// Writes beside the target and renames, so that a reader sees the old file or the new one, never half of
/// either. Returns what went wrong, or none; then the target is as it was.
std::optional<Error> write_file_atomically(const std::string& path, std::string_view bytes);

/// The same for a file that must not be there yet.
std::optional<Error> write_new_file_atomically(const std::string& path, std::string_view bytes);

}  // namespace glidewright

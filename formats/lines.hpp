#pragma once
// Line numbers from byte offsets, counted only when a sentence needs one.

#include <algorithm>
#include <cstddef>
#include <string_view>

namespace glidewright {

/// Line (from 1) in which the byte at `offset` stands.
inline std::size_t line_at(std::string_view bytes, std::size_t offset) {
  const auto end = bytes.begin() + static_cast<std::ptrdiff_t>(std::min(offset, bytes.size()));
  return 1 + static_cast<std::size_t>(std::count(bytes.begin(), end, '\n'));
}

}  // namespace glidewright

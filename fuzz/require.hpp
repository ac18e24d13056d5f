#pragma once
// What a fuzz target demands of a result, beyond not crashing.

#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <string_view>
#include <vector>

/// Stops the run, so that the input is kept.
inline void require(bool holds) {
  if (!holds) std::abort();
}

inline std::string_view as_text(const std::uint8_t* data, std::size_t size) {
  return {reinterpret_cast<const char*>(data), size};
}

/// Rows as every reader promises them.
template <class Row>
void require_rising_times(const std::vector<Row>& rows) {
  for (std::size_t i = 1; i < rows.size(); ++i) require(rows[i].time_unix_s > rows[i - 1].time_unix_s);
}

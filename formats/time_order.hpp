#pragma once
// Recorded rows brought into strictly increasing time, with as few dropped as can be.

#include <algorithm>
#include <cstddef>
#include <vector>

#include "formats/repairs.hpp"

namespace glidewright {

/// A row and the byte at which it stands in the file.
template <class Row>
struct Placed {
  Row row;
  std::size_t offset = 0;
};

/// Which of these times to keep: a longest strictly increasing subsequence, so that one wild time costs one
/// row and not all that follow it; among equally long ones that of reading front to back, where it is one.
/// O(n log n).
std::vector<std::size_t> longest_increasing(const std::vector<double>& times);

/// Drops rows until times (`time_unix_s`) strictly increase; repeats keep their first. Order is otherwise
/// kept.
template <class Row>
void keep_increasing(std::vector<Placed<Row>>& rows, Repairs& repairs) {
  const auto time = [](const Placed<Row>& placed) { return placed.row.time_unix_s; };
  std::size_t kept = 0;
  bool increasing = true;
  for (std::size_t i = 0; i < rows.size(); ++i) {
    if (kept > 0 && time(rows[i]) == time(rows[kept - 1])) {
      repairs.add(Repair::repeated_time, rows[i].offset);
      continue;
    }
    increasing = increasing && (kept == 0 || time(rows[i]) > time(rows[kept - 1]));
    if (kept != i) rows[kept] = rows[i];
    ++kept;
  }
  rows.resize(kept);
  if (increasing) return;

  std::vector<double> times(rows.size());
  std::transform(rows.begin(), rows.end(), times.begin(), time);
  const auto keep = longest_increasing(times);
  std::size_t next = 0;
  for (std::size_t i = 0; i < rows.size(); ++i) {
    if (next < keep.size() && keep[next] == i) {
      if (next != i) rows[next] = rows[i];
      ++next;
    } else {
      repairs.add(Repair::time_ran_backwards, rows[i].offset);
    }
  }
  rows.resize(next);
}

}  // namespace glidewright

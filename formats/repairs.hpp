#pragma once
// What a reader had to leave out or mend, counted by kind and told once each.

#include <array>
#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace glidewright {

enum class Repair {
  repeated_time,
  time_ran_backwards,
  no_time,
  unreadable_time,
  no_position_yet,
  unreadable_altitude,
  unreadable_number,
  short_row,
  unreadable_line,
  wrong_checksum,
  segments_out_of_order,
  frozen_position,
  count  // how many kinds there are
};

/// Tally of repairs; the sentences give the line of the first of each kind.
class Repairs {
 public:
  /// offset: byte in the file at which the repaired place begins.
  void add(Repair repair, std::size_t offset);
  std::size_t count(Repair repair) const { return tallies_[static_cast<std::size_t>(repair)].count; }
  std::size_t first_offset(Repair repair) const {
    return tallies_[static_cast<std::size_t>(repair)].first_offset;
  }
  /// "line 214: time ran backwards, fix dropped", or "12 fixes whose time ran backwards dropped (first at
  /// line 214)".
  std::vector<std::string> sentences(std::string_view bytes) const;

 private:
  struct Tally {
    std::size_t count = 0;
    std::size_t first_offset = 0;
  };
  std::array<Tally, static_cast<std::size_t>(Repair::count)> tallies_{};
};

}  // namespace glidewright

#pragma once
// One row of a CSV as its header says: the fields that are used, as text, as numbers, as a moment.

#include <array>
#include <optional>
#include <string>
#include <string_view>

#include "formats/csv_header.hpp"
#include "formats/time.hpp"

namespace glidewright {

/// Texts are views into the line that was split last.
class CsvRow {
 public:
  explicit CsvRow(CsvHeader header);
  CsvRow(const CsvRow&) = delete;
  CsvRow& operator=(const CsvRow&) = delete;

  const CsvHeader& header() const { return header_; }
  const CsvColumn* column(CsvField field) const { return columns_[static_cast<std::size_t>(field)]; }
  bool has(CsvField field) const { return column(field) != nullptr; }

  /// Cuts a line into the fields that are used. False where it is too short for all of them.
  bool split(std::string_view line);
  std::string_view text(CsvField field) const { return texts_[static_cast<std::size_t>(field)]; }
  std::optional<double> number(CsvField field) const;
  /// UTC of the row: seconds, milli-, micro- or nanoseconds since 1970, ISO 8601, or a date and a time of
  /// day.
  std::optional<double> time();
  /// Of times that named no zone, some were taken as UTC.
  bool zone_missing() const { return zone_missing_; }
  /// "column 4 'lat_deg'".
  std::string column_words(CsvField field) const;

 private:
  std::optional<double> unix_number(CsvField field) const;
  double in_utc(const WrittenTime& time);
  bool header_says_zone() const;
  std::optional<std::int64_t> running_day(double seconds);

  static constexpr auto k_field_count = static_cast<std::size_t>(CsvField::count);
  CsvHeader header_;
  std::array<const CsvColumn*, k_field_count> columns_{};
  std::array<std::string_view, k_field_count> texts_{};
  std::array<std::string, k_field_count> unquoted_{};
  bool zone_missing_ = false;
  std::optional<double> last_clock_s_;
  std::int64_t days_passed_ = 0;
};

}  // namespace glidewright

#pragma once
// The rows of a CSV as lines and fields, and the header row among the first of them.

#include <array>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "formats/civil_text.hpp"
#include "formats/csv_columns.hpp"
#include "formats/result.hpp"

namespace glidewright {

/// One field after the other of one line; quotes taken off.
class CsvFields {
 public:
  CsvFields(std::string_view line, char delimiter) : line_(line), delimiter_(delimiter) {}
  /// None after the last field. The view is valid until the next call.
  std::optional<std::string_view> next();
  /// Passes over one field without looking into it; false after the last.
  bool skip();

 private:
  std::string_view quoted();

  std::string_view line_;
  char delimiter_;
  std::size_t at_ = 0;
  std::string buffer_;
};

/// One line after the other, without its line end (LF, CRLF or a lone CR at the end of the line).
class CsvLines {
 public:
  explicit CsvLines(std::string_view bytes);
  std::optional<std::string_view> next();
  /// Byte at which the line just given begins.
  std::size_t offset() const { return line_offset_; }

 private:
  std::string_view bytes_;
  std::size_t at_ = 0;
  std::size_t line_offset_ = 0;
};

enum class DecimalMark {
  by_separator,  ///< a comma where the columns are not separated by commas, else a point; each number by
                 ///< itself
  point,
  comma
};

struct CsvHeader {
  char delimiter = ',';
  DecimalMark decimal = DecimalMark::by_separator;
  DateOrder date_order = DateOrder::year_month_day;
  bool date_order_unclear = false;   ///< no day above 12 among the first rows
  std::optional<int> utc_offset_s;   ///< of times that name no zone; none: taken as UTC
  std::optional<std::int64_t> days;  ///< the day of the flight since 1970-01-01, where rows have none
  std::vector<CsvColumn> columns;    ///< those that are used, by rising index; each field once
  std::size_t rows_begin = 0;        ///< byte at which the first row begins
  std::size_t header_line = 0;       ///< from 1; 0: there is none
  std::size_t first_row_line = 1;    ///< from 1

  const CsvColumn* find(CsvField field) const;
};

/// Does it name a time and something to go with it?
bool is_usable(const CsvHeader& header);

/// Does it name three axes of an accelerometer, and neither positions nor a panel's values?
bool is_accelerometer(const CsvHeader& header);

/// The first line that names a time and something to go with it; a line of units directly above or below it
/// is taken into account, and dates are looked at in the first rows. An error when no line among the first
/// does.
Result<CsvHeader> find_csv_header(std::string_view bytes, std::string_view name);

}  // namespace glidewright

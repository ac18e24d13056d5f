#pragma once
// The rows of a CSV as lines and fields, and the header row among the first of them.

#include <array>
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

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

struct CsvHeader {
  char delimiter = ',';
  std::vector<CsvColumn> columns;  ///< those that are used, by rising index; each field once
  std::size_t rows_begin = 0;      ///< byte after the header row

  const CsvColumn* find(CsvField field) const;
};

/// The first line that names a time and something to go with it. An error when none of the first lines does.
Result<CsvHeader> find_csv_header(std::string_view bytes, std::string_view name);

}  // namespace glidewright

#pragma once
// How to read a CSV, as a user saves it: `glidewright.columns/1`, docs/schema/columns.json.

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "formats/csv_header.hpp"
#include "formats/json_write.hpp"
#include "formats/result.hpp"

namespace glidewright {

/// One column that is used: known by its header, or by its number where no header has the name.
struct MappedColumn {
  std::string header;
  std::size_t number = 0;  ///< from 1; 0: by the header
  CsvColumn meaning;       ///< index and header stay as they are until the file is there
};

struct CsvMapping {
  std::string file;  ///< where it was read, for sentences
  char separator = ',';
  DecimalMark decimal = DecimalMark::point;
  std::size_t header_line = 1;  ///< from 1; 0: there is none
  std::size_t first_row_line = 2;
  DateOrder date_order = DateOrder::year_month_day;
  std::optional<int> utc_offset_s;
  std::optional<std::int64_t> days;  ///< the day of the flight, where the log has times of day only
  std::vector<MappedColumn> columns;
};

Result<CsvMapping> read_csv_mapping_json(std::string_view bytes, std::string_view name);

/// The mapping applied to a file. An error names the header that is not there, and those that are.
Result<CsvHeader> csv_header_as_mapped(std::string_view bytes, std::string_view name,
                                       const CsvMapping& mapping);

/// A header, guessed or mapped, in the form that can be saved.
Json csv_mapping_to_json(const CsvHeader& header);

/// What a user sees before he confirms: every column, used or not, with the first value under it.
struct CsvColumnShown {
  std::string header;
  std::string first_value;
  std::optional<CsvColumn> used;
};
struct CsvColumnsShown {
  CsvHeader header;
  std::vector<CsvColumnShown> columns;
};
Result<CsvColumnsShown> show_csv_columns(std::string_view bytes, std::string_view name,
                                         const CsvMapping* mapping);

}  // namespace glidewright

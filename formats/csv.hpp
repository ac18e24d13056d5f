#pragma once
// CSV logs: positions, panel columns, or both, named by a header row.

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "engine/track/log.hpp"
#include "formats/result.hpp"

namespace glidewright {

struct CsvMapping;

/// What a CSV held; either may be empty, not both. Times of each strictly increase.
struct CsvLog {
  std::vector<Fix> fixes;
  std::vector<Freeze> freezes;
  HeightUnit heights_in = HeightUnit::feet;  ///< of the column of altitudes; feet where there is none
  std::vector<PanelSample> panel;
  std::vector<std::string> notes;
};

/// Reads a CSV with a header row among its first lines (lines starting with "#" are passed over).
///
/// Delimiter comma, semicolon or tab, found from the header; with the last two a decimal comma is understood.
/// Fields may be quoted ("" for a quote) but do not span lines. Header names as csv_columns.hpp knows them;
/// columns with other names are passed over. Times: ISO 8601 (without a zone taken as UTC, and said), Unix
/// seconds, or a date column beside a time of day. Rows with neither position nor panel value are passed
/// over.
/// Dates in any order that the first rows settle; angles also as degrees and minutes with a letter. A mapping
/// replaces all that is guessed. Errors name line and column.
/// heights: the unit of the column of altitudes, whatever header or mapping say, and of pressure altitudes
/// that they write in the same one.
Result<CsvLog> read_csv(std::string_view bytes, std::string_view name, const CsvMapping* mapping = nullptr,
                        std::optional<HeightUnit> heights = std::nullopt);

/// Does a header row that read_csv would use stand among the first lines?
bool has_csv_header(std::string_view bytes);

}  // namespace glidewright

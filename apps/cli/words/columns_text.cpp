#include "apps/cli/words/columns_text.hpp"

#include <fmt/format.h>

#include "formats/shown.hpp"

namespace glidewright {
namespace {

std::string separator_words(char separator) {
  if (separator == '\t') return "tabs";
  return separator == ';' ? "semicolons" : separator == '|' ? "bars" : "commas";
}

std::string layout_words(const CsvHeader& header) {
  const std::string names =
      header.header_line > 0 ? fmt::format("Names in line {}, ", header.header_line) : "No names, ";
  const std::string zone = header.utc_offset_s && *header.utc_offset_s != 0
                               ? fmt::format("{:+.10g} h from UTC", *header.utc_offset_s / 3600.0)
                               : std::string("UTC");
  return fmt::format(
      "{}rows from line {}; columns separated by {}; decimal {}; times that name no zone are {}.", names,
      header.first_row_line, separator_words(header.delimiter),
      header.decimal == DecimalMark::comma ? "comma" : "point", zone);
}

std::string meaning_words(const CsvColumnShown& column) {
  if (!column.used) return "passed over";
  std::string words(csv_field_name(column.used->field));
  if (!column.used->unit.empty()) words += ", " + column.used->unit;
  if (column.used->unit_assumed) words += " (assumed)";
  return words;
}

}  // namespace

std::string columns_text(const CsvColumnsShown& shown_columns, const std::string& file, const Page& page) {
  const auto& header = shown_columns.header;
  std::string text = wrapped("How " + file + " is read. " + layout_words(header), {}, page) + "\n";
  text += fmt::format("  {}  {}{}{}\n", padded_left("no.", 4), padded_right("header", 29),
                      padded_right("taken as", 34), "first value");
  bool assumed = false;
  for (std::size_t i = 0; i < shown_columns.columns.size(); ++i) {
    const auto& column = shown_columns.columns[i];
    text += fmt::format("  {}  {}{}{}\n", padded_left(std::to_string(i + 1), 4),
                        padded_right(shown(column.header), 29), padded_right(meaning_words(column), 34),
                        shown(column.first_value));
    assumed = assumed || (column.used && column.used->unit_assumed);
  }
  text += "\n";
  if (assumed)
    text += wrapped(
        "A unit marked as assumed stands nowhere in the file. Feet taken for metres are a debrief of another "
        "flight: please check it.",
        {}, page);
  if (header.date_order_unclear)
    text += wrapped("The dates can be read two ways; they are taken as day before month.", {}, page);
  text += wrapped(
      "To correct it, save what --show-columns --json prints, change it, and give it with --columns FILE.",
      {}, page);
  return text;
}

}  // namespace glidewright

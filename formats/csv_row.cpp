#include "formats/csv_row.hpp"

#include <fmt/format.h>

#include <utility>

#include "formats/number.hpp"
#include "formats/shown.hpp"

namespace glidewright {
namespace {

constexpr double k_seconds_per_day = 86400.0;

std::string_view without_zone(std::string_view time_of_day) {
  return time_of_day.ends_with('Z') || time_of_day.ends_with('z')
             ? time_of_day.substr(0, time_of_day.size() - 1)
             : time_of_day;
}

}  // namespace

CsvRow::CsvRow(CsvHeader header) : header_(std::move(header)) {
  for (const auto& column : header_.columns) columns_[static_cast<std::size_t>(column.field)] = &column;
}

bool CsvRow::split(std::string_view line) {
  CsvFields fields(line, header_.delimiter);
  std::size_t index = 0;
  for (std::size_t i = 0; i < header_.columns.size(); ++i) {
    const auto& column = header_.columns[i];
    for (; index < column.index; ++index) {
      if (!fields.skip()) return false;
    }
    const auto field = fields.next();
    if (!field) return false;
    ++index;
    auto& kept = texts_[static_cast<std::size_t>(column.field)];
    kept = trim_blanks(*field);
    // What came out of quotes lies in a buffer that the next field overwrites.
    const bool in_line = field->data() >= line.data() && field->data() <= line.data() + line.size();
    if (!in_line) {
      unquoted_[i].assign(kept);
      kept = unquoted_[i];
    }
  }
  return true;
}

std::optional<double> CsvRow::number(CsvField field) const {
  const auto written = text(field);
  if (written.empty()) return std::nullopt;
  const bool allowed = header_.decimal == DecimalMark::comma ||
                       (header_.decimal == DecimalMark::by_separator && header_.delimiter != ',');
  const bool comma = allowed && written.find(',') != std::string_view::npos;
  return comma ? read_decimal_comma_number(written) : read_number(written);
}

std::string CsvRow::column_words(CsvField field) const {
  const auto* column = this->column(field);
  if (column == nullptr) return "no column";
  const auto number = fmt::format("column {}", column->index + 1);
  return column->header.empty() ? number : fmt::format("{} '{}'", number, shown(column->header));
}

/// Which unit since 1970 shows in the size (1973 to 5138 whichever).
std::optional<double> CsvRow::unix_number(CsvField field) const {
  auto value = number(field);
  if (!value || *value < 1e8 || *value > 1e20) return std::nullopt;
  while (*value >= 1e11) *value /= 1000.0;
  return value;
}

/// UTC from a moment that may have named its zone.
double CsvRow::in_utc(const WrittenTime& time) {
  if (time.zone_given) return time.unix_s;
  if (has(CsvField::utc_offset)) {
    if (const auto offset = read_utc_offset(text(CsvField::utc_offset))) return time.unix_s - *offset;
  }
  if (header_.utc_offset_s) return time.unix_s - *header_.utc_offset_s;
  zone_missing_ = true;
  return time.unix_s;
}

std::optional<double> CsvRow::time() {
  if (has(CsvField::unix_s)) return unix_number(CsvField::unix_s);
  if (has(CsvField::time)) {
    const auto time = read_time_in(text(CsvField::time), header_.date_order);
    if (!time) return unix_number(CsvField::time);
    return in_utc(*time);
  }
  const auto seconds = read_clock_time(without_zone(text(CsvField::time_of_day)));
  if (!seconds) return std::nullopt;
  const auto days =
      has(CsvField::date) ? read_date_in(text(CsvField::date), header_.date_order) : running_day(*seconds);
  if (!days) return std::nullopt;
  const WrittenTime written{static_cast<double>(*days) * k_seconds_per_day + *seconds,
                            text(CsvField::time_of_day).ends_with('Z') || !header_says_zone()};
  return in_utc(written);
}

/// A date beside a time of day is taken as UTC unless something says otherwise.
bool CsvRow::header_says_zone() const {
  const auto* clock = column(CsvField::time_of_day);
  return header_.utc_offset_s || has(CsvField::utc_offset) || (clock != nullptr && clock->local_time);
}

/// The day of the flight, and the next one once the clock has passed midnight.
std::optional<std::int64_t> CsvRow::running_day(double seconds) {
  if (!header_.days) return std::nullopt;
  if (last_clock_s_ && seconds < *last_clock_s_ - 0.5 * k_seconds_per_day) ++days_passed_;
  last_clock_s_ = seconds;
  return *header_.days + days_passed_;
}

}  // namespace glidewright

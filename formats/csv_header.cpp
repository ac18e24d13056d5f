#include "formats/csv_header.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "formats/lines.hpp"
#include "formats/number.hpp"

namespace glidewright {
namespace {

constexpr std::size_t k_lines_searched = 50;
constexpr std::size_t k_columns_allowed = 1000;

/// The sign among , ; tab that stands most often outside quotes.
char delimiter_of(std::string_view line) {
  std::array<std::size_t, 256> counts{};
  bool quoted = false;
  for (const char c : line) {
    if (c == '"') quoted = !quoted;
    if (!quoted) ++counts[static_cast<unsigned char>(c)];
  }
  char best = ',';
  for (const char c : {';', '\t'}) {
    if (counts[static_cast<unsigned char>(c)] > counts[static_cast<unsigned char>(best)]) best = c;
  }
  return best;
}

bool is_panel_field(CsvField field) {
  return field >= CsvField::indicated_airspeed && field <= CsvField::flap;
}

/// "time" means the time of day where a date column stands beside it.
void settle_time(CsvHeader& header) {
  if (header.find(CsvField::date) == nullptr) return;
  for (auto& column : header.columns) {
    if (column.field == CsvField::time) column.field = CsvField::time_of_day;
  }
}

bool is_usable(const CsvHeader& header) {
  const bool timed =
      header.find(CsvField::time) != nullptr || header.find(CsvField::unix_s) != nullptr ||
      (header.find(CsvField::date) != nullptr && header.find(CsvField::time_of_day) != nullptr);
  const bool placed =
      header.find(CsvField::latitude) != nullptr && header.find(CsvField::longitude) != nullptr;
  const bool panel = std::any_of(header.columns.begin(), header.columns.end(),
                                 [](const CsvColumn& column) { return is_panel_field(column.field); });
  return timed && (placed || panel);
}

/// None where the line has more columns than any log.
std::optional<CsvHeader> read_header(std::string_view line) {
  CsvHeader header;
  header.delimiter = delimiter_of(line);
  CsvFields fields(line, header.delimiter);
  std::size_t index = 0;
  for (auto field = fields.next(); field; field = fields.next(), ++index) {
    if (index == k_columns_allowed) return std::nullopt;
    auto column = csv_column(trim_blanks(*field));
    if (!column || header.find(column->field) != nullptr) continue;
    column->index = index;
    header.columns.push_back(*std::move(column));
  }
  settle_time(header);
  return header;
}

}  // namespace

std::optional<std::string_view> CsvFields::next() {
  if (at_ > line_.size()) return std::nullopt;
  if (at_ < line_.size() && line_[at_] == '"') return quoted();
  const std::size_t begin = at_;
  while (at_ < line_.size() && line_[at_] != delimiter_) ++at_;
  return line_.substr(begin, at_++ - begin);
}

bool CsvFields::skip() {
  if (at_ > line_.size()) return false;
  if (at_ < line_.size() && line_[at_] == '"') {
    quoted();
    return true;
  }
  while (at_ < line_.size() && line_[at_] != delimiter_) ++at_;
  ++at_;
  return true;
}

std::string_view CsvFields::quoted() {
  buffer_.clear();
  for (++at_; at_ < line_.size(); ++at_) {
    if (line_[at_] == '"') {
      const bool doubled = at_ + 1 < line_.size() && line_[at_ + 1] == '"';
      if (!doubled) break;
      ++at_;
    }
    buffer_ += line_[at_];
  }
  while (at_ < line_.size() && line_[at_] != delimiter_) ++at_;
  ++at_;
  return buffer_;
}

CsvLines::CsvLines(std::string_view bytes) : bytes_(bytes) {
  if (bytes_.substr(0, 3) == "\xEF\xBB\xBF") at_ = 3;
}

std::optional<std::string_view> CsvLines::next() {
  if (at_ >= bytes_.size()) return std::nullopt;
  line_offset_ = at_;
  const auto end = std::min(bytes_.find('\n', at_), bytes_.size());
  auto line = bytes_.substr(at_, end - at_);
  at_ = end + 1;
  if (!line.empty() && line.back() == '\r') line.remove_suffix(1);
  return line;
}

const CsvColumn* CsvHeader::find(CsvField field) const {
  const auto column =
      std::find_if(columns.begin(), columns.end(), [&](const CsvColumn& c) { return c.field == field; });
  return column == columns.end() ? nullptr : &*column;
}

Result<CsvHeader> find_csv_header(std::string_view bytes, std::string_view name) {
  CsvLines lines(bytes);
  std::size_t searched = 0;
  for (auto line = lines.next(); line && searched < k_lines_searched; line = lines.next(), ++searched) {
    if (line->empty() || line->front() == '#') continue;
    auto header = read_header(*line);
    if (!header) {
      return Error{fmt::format("{}:{}: more than {} columns; expected a log with a header row", name,
                               line_at(bytes, lines.offset()), k_columns_allowed)};
    }
    if (!is_usable(*header)) continue;
    header->rows_begin = std::min(bytes.size(), lines.offset() + line->size());
    header->rows_begin = std::min(bytes.size(), bytes.find('\n', header->rows_begin)) + 1;
    return *std::move(header);
  }
  return Error{
      fmt::format("{}: no header row with a time and positions or panel columns in the first {} lines; "
                  "expected names such as time_utc, lat_deg, lon_deg, alt_gnss_ft",
                  name, k_lines_searched)};
}

}  // namespace glidewright

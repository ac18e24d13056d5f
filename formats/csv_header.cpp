#include "formats/csv_header.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "formats/lines.hpp"
#include "formats/number.hpp"

namespace glidewright {
namespace {

constexpr std::size_t k_lines_searched = 50;
constexpr std::size_t k_columns_allowed = 1000;
constexpr std::size_t k_rows_looked_at = 400;

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

bool has_three_axes(const CsvHeader& header) {
  return header.find(CsvField::acceleration_x) != nullptr &&
         header.find(CsvField::acceleration_y) != nullptr && header.find(CsvField::acceleration_z) != nullptr;
}

/// "time" means the time of day where a date column stands beside it.
void settle_time(CsvHeader& header) {
  if (header.find(CsvField::date) == nullptr) return;
  for (auto& column : header.columns) {
    if (column.field == CsvField::time) column.field = CsvField::time_of_day;
  }
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

std::vector<std::string> cells_of(std::string_view line, char delimiter) {
  std::vector<std::string> cells;
  CsvFields fields(line, delimiter);
  for (auto field = fields.next(); field && cells.size() < k_columns_allowed; field = fields.next())
    cells.emplace_back(trim_blanks(*field));
  return cells;
}

/// Takes units from a line such as "#, hh:mm:ss, ft, kt"; false where the line is none of units.
bool take_units(std::string_view line, CsvHeader& header) {
  if (!line.empty() && line.front() == '#') line.remove_prefix(1);
  const auto cells = cells_of(line, header.delimiter);
  if (std::any_of(cells.begin(), cells.end(), [](const auto& cell) { return read_number(cell).has_value(); }))
    return false;
  auto columns = header.columns;
  std::size_t named = 0;
  for (auto& column : columns) {
    if (column.index >= cells.size()) continue;
    std::string_view unit = cells[column.index];
    while (!unit.empty() && (unit.front() == '(' || unit.front() == '[')) unit.remove_prefix(1);
    while (!unit.empty() && (unit.back() == ')' || unit.back() == ']')) unit.remove_suffix(1);
    const bool in_header =
        !column.unit.empty() && !column.unit_assumed && column.unit != "deg" && column.unit != "C";
    CsvColumn with_unit = column;
    if (!set_csv_unit(with_unit, unit)) continue;
    ++named;
    // What the header itself says stands.
    if (!in_header) column = with_unit;
  }
  if (named < 2) return false;
  header.columns = std::move(columns);
  return true;
}

/// What a date's three numbers allow, over the first rows.
class DateOrders {
 public:
  void look_at(std::string_view date) {
    date = date.substr(0, date.find_first_of("Tt "));
    if (date.empty()) return;
    for (std::size_t i = 0; i < 3; ++i) possible_[i] = possible_[i] && read_date_in(date, k_orders[i]);
    seen_ = true;
  }
  void settle(CsvHeader& header) const {
    if (!seen_) return;
    for (std::size_t i = 0; i < 3; ++i) {
      if (!possible_[i]) continue;
      header.date_order = k_orders[i];
      // "2026" is no day, so that only the other two can be mixed up; a point is written between day and
      // month.
      header.date_order_unclear = i == 1 && possible_[2];
      return;
    }
  }

 private:
  static constexpr std::array k_orders{DateOrder::year_month_day, DateOrder::day_month_year,
                                       DateOrder::month_day_year};
  std::array<bool, 3> possible_{true, true, true};
  bool seen_ = false;
};

void look_at_dates(std::string_view rows, CsvHeader& header) {
  const CsvColumn* dated = header.find(CsvField::date);
  if (dated == nullptr) dated = header.find(CsvField::time);
  if (dated == nullptr) return;
  DateOrders orders;
  CsvLines lines(rows);
  std::size_t looked_at = 0;
  for (auto line = lines.next(); line && looked_at < k_rows_looked_at; line = lines.next(), ++looked_at) {
    CsvFields fields(*line, header.delimiter);
    bool there = true;
    for (std::size_t i = 0; there && i < dated->index; ++i) there = fields.skip();
    const auto field = there ? fields.next() : std::nullopt;
    if (!field) continue;
    const auto text = trim_blanks(*field);
    const auto date = text.substr(0, text.find_first_of("Tt "));
    // Rows that hold no date in any order say nothing about it.
    if (read_date_in(date, DateOrder::year_month_day) || read_date_in(date, DateOrder::day_month_year) ||
        read_date_in(date, DateOrder::month_day_year))
      orders.look_at(text);
  }
  orders.settle(header);
}

}  // namespace

bool is_usable(const CsvHeader& header) {
  const bool timed = header.find(CsvField::time) != nullptr || header.find(CsvField::unix_s) != nullptr ||
                     ((header.find(CsvField::date) != nullptr || header.days) &&
                      header.find(CsvField::time_of_day) != nullptr);
  const bool placed =
      header.find(CsvField::latitude) != nullptr && header.find(CsvField::longitude) != nullptr;
  const bool panel = std::any_of(header.columns.begin(), header.columns.end(),
                                 [](const CsvColumn& column) { return is_panel_field(column.field); });
  return (timed && (placed || panel)) ||
         ((timed || header.find(CsvField::elapsed) != nullptr) && has_three_axes(header));
}

bool is_accelerometer(const CsvHeader& header) {
  return has_three_axes(header) && header.find(CsvField::latitude) == nullptr &&
         std::none_of(header.columns.begin(), header.columns.end(),
                      [](const CsvColumn& column) { return is_panel_field(column.field); });
}

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
  std::string_view above;
  for (std::size_t searched = 0; searched < k_lines_searched; ++searched) {
    const auto line = lines.next();
    if (!line) break;
    const auto before = std::exchange(above, *line);
    if (line->empty() || line->front() == '#') continue;
    auto header = read_header(*line);
    if (!header) {
      return Error{fmt::format("{}:{}: more than {} columns; expected a log with a header row", name,
                               line_at(bytes, lines.offset()), k_columns_allowed)};
    }
    if (!is_usable(*header)) continue;
    header->header_line = searched + 1;
    header->first_row_line = searched + 2;
    take_units(before, *header);
    header->rows_begin = std::min(bytes.size(), lines.offset() + line->size());
    header->rows_begin = std::min(bytes.size(), bytes.find('\n', header->rows_begin)) + 1;
    const auto below = lines.next();
    if (below && take_units(*below, *header)) {
      ++header->first_row_line;
      header->rows_begin = std::min(bytes.size(), bytes.find('\n', lines.offset())) + 1;
    }
    look_at_dates(bytes.substr(std::min(header->rows_begin, bytes.size())), *header);
    return *std::move(header);
  }
  return Error{
      fmt::format("{}: no header row with a time and positions or panel columns in the first {} lines; "
                  "expected names such as time_utc, lat_deg, lon_deg, alt_gnss_ft",
                  name, k_lines_searched)};
}

}  // namespace glidewright

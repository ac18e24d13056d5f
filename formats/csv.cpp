#include "formats/csv.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "formats/csv_header.hpp"
#include "formats/fix_order.hpp"
#include "formats/lines.hpp"
#include "formats/number.hpp"
#include "formats/position_text.hpp"
#include "formats/time.hpp"

namespace glidewright {
namespace {

constexpr double k_seconds_per_day = 86400.0;
constexpr auto k_field_count = static_cast<std::size_t>(CsvField::count);

class CsvReader {
 public:
  CsvReader(std::string_view bytes, std::string_view name, CsvHeader header)
      : bytes_(bytes), name_(name), header_(std::move(header)) {}

  Result<CsvLog> read() {
    const auto rows = bytes_.substr(std::min(header_.rows_begin, bytes_.size()));
    const auto base = static_cast<std::size_t>(rows.data() - bytes_.data());
    CsvLines lines(rows);
    for (auto line = lines.next(); line; line = lines.next()) {
      if (line->empty() || line->front() == '#') continue;
      offset_ = base + lines.offset();
      if (!split(*line)) {
        repairs_.add(Repair::short_row, offset_);
        continue;
      }
      if (auto why = read_row(); !why.empty()) {
        return Error{fmt::format("{}:{}: {}", name_, line_at(bytes_, offset_), why)};
      }
    }
    return finish();
  }

 private:
  std::string_view text(CsvField field) const { return texts_[static_cast<std::size_t>(field)]; }

  /// Cuts a line into the fields that are used. False where it is too short for all of them.
  bool split(std::string_view line) {
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

  std::optional<double> number(CsvField field) {
    const auto written = text(field);
    if (written.empty()) return std::nullopt;
    const bool comma = header_.delimiter != ',' && written.find(',') != std::string_view::npos;
    return comma ? read_decimal_comma_number(written) : read_number(written);
  }

  /// A value that may be left out: unreadable ones are counted.
  std::optional<double> optional_number(CsvField field) {
    const auto value = number(field);
    if (!value && !text(field).empty()) repairs_.add(Repair::unreadable_number, offset_);
    return value;
  }

  std::optional<double> scaled(CsvField field) {
    const auto* column = columns_[static_cast<std::size_t>(field)];
    if (column == nullptr) return std::nullopt;
    const auto value = optional_number(field);
    if (!value) return std::nullopt;
    return *value * column->scale;
  }

  /// Seconds or milliseconds since 1970; which of them shows in the size (1973 to 5138 either way).
  std::optional<double> unix_number(CsvField field) {
    const auto value = number(field);
    if (!value || *value < 1e8 || *value > 1e14) return std::nullopt;
    return *value < 1e11 ? *value : *value / 1000.0;
  }

  std::optional<double> row_time() {
    if (has(CsvField::unix_s)) return unix_number(CsvField::unix_s);
    if (has(CsvField::time)) {
      const auto time = read_time(text(CsvField::time));
      if (!time) return unix_number(CsvField::time);
      zone_missing_ = zone_missing_ || !time->zone_given;
      return time->unix_s;
    }
    const auto days = read_date(text(CsvField::date));
    const auto seconds = read_time_of_day(text(CsvField::time_of_day));
    if (!days || !seconds) return std::nullopt;
    return static_cast<double>(*days) * k_seconds_per_day + *seconds;
  }

  bool has(CsvField field) const { return columns_[static_cast<std::size_t>(field)] != nullptr; }

  /// What is wrong with the row; empty when nothing is.
  std::string read_row() {
    ++rows_;
    const auto time = row_time();
    if (!time) {
      repairs_.add(Repair::unreadable_time, offset_);
      return {};
    }
    if (auto why = add_fix(*time); !why.empty()) return why;
    add_panel(*time);
    return {};
  }

  std::string add_fix(double time) {
    if (!has(CsvField::latitude) || !has(CsvField::longitude)) return {};
    const auto latitude_text = text(CsvField::latitude);
    const auto longitude_text = text(CsvField::longitude);
    if (latitude_text.empty() && longitude_text.empty()) return {};
    std::string why;
    const auto place = read_position(number(CsvField::latitude), latitude_text, number(CsvField::longitude),
                                     longitude_text, why);
    if (!place) return why;
    if (place->latitude_deg == 0.0 && place->longitude_deg == 0.0) {
      repairs_.add(Repair::no_position_yet, offset_);
      return {};
    }
    Fix fix;
    fix.time_unix_s = time;
    fix.place = *place;
    fix.altitude_ft = scaled(CsvField::altitude);
    fix.groundspeed_kt = scaled(CsvField::groundspeed);
    if (const auto course = scaled(CsvField::course)) fix.course_true_deg = wrap_360_deg(*course);
    fixes_.push_back({fix, offset_});
    return {};
  }

  void add_panel(double time) {
    PanelSample sample;
    sample.time_unix_s = time;
    sample.indicated_airspeed_kt = scaled(CsvField::indicated_airspeed);
    sample.pressure_altitude_ft = scaled(CsvField::pressure_altitude);
    sample.pitch_deg = scaled(CsvField::pitch);
    sample.roll_deg = scaled(CsvField::roll);
    if (const auto heading = scaled(CsvField::heading)) sample.heading_true_deg = wrap_360_deg(*heading);
    sample.powerplant_rpm = scaled(CsvField::powerplant_rpm);
    sample.outside_air_temperature_c = scaled(CsvField::outside_air_temperature);
    sample.flap_deg = scaled(CsvField::flap);
    const bool any = sample.indicated_airspeed_kt || sample.pressure_altitude_ft || sample.pitch_deg ||
                     sample.roll_deg || sample.heading_true_deg || sample.powerplant_rpm ||
                     sample.outside_air_temperature_c || sample.flap_deg;
    if (any) panel_.push_back({sample, offset_});
  }

  Result<CsvLog> finish() {
    if (rows_ == 0) return Error{fmt::format("{}: a header row and no data", name_)};
    if (repairs_.count(Repair::unreadable_time) == rows_) {
      return Error{fmt::format("{}:{}: time cannot be read; expected UTC such as 2026-05-14T20:02:55Z", name_,
                               line_at(bytes_, repairs_.first_offset(Repair::unreadable_time)))};
    }
    if (fixes_.empty() && panel_.empty()) return Error{fmt::format("{}: no row has a value", name_)};
    CsvLog log;
    if (!fixes_.empty()) {
      auto ordered = order_fixes(std::move(fixes_), repairs_, name_);
      if (!ordered) return ordered.error();
      log.fixes = *std::move(ordered);
    }
    // The same rows carry both, so what is dropped from the panel has been counted with the fixes.
    Repairs uncounted;
    keep_increasing(panel_, log.fixes.empty() ? repairs_ : uncounted);
    for (const auto& placed : panel_) log.panel.push_back(placed.row);
    log.notes = repairs_.sentences(bytes_);
    if (zone_missing_) log.notes.push_back("times name no zone; taken as UTC");
    for (const auto& column : header_.columns) {
      if (!column.unit_assumed) continue;
      const bool speed =
          column.field == CsvField::groundspeed || column.field == CsvField::indicated_airspeed;
      log.notes.push_back(
          fmt::format("column '{}' names no unit; taken as {}", column.header, speed ? "knots" : "feet"));
    }
    return log;
  }

  std::array<const CsvColumn*, k_field_count> by_field() const {
    std::array<const CsvColumn*, k_field_count> columns{};
    for (const auto& column : header_.columns) columns[static_cast<std::size_t>(column.field)] = &column;
    return columns;
  }

  std::string_view bytes_;
  std::string_view name_;
  CsvHeader header_;
  std::array<const CsvColumn*, k_field_count> columns_ = by_field();
  std::array<std::string_view, k_field_count> texts_{};
  std::array<std::string, k_field_count> unquoted_{};
  std::size_t offset_ = 0;
  std::size_t rows_ = 0;
  bool zone_missing_ = false;
  std::vector<Placed<Fix>> fixes_;
  std::vector<Placed<PanelSample>> panel_;
  Repairs repairs_;
};

}  // namespace

Result<CsvLog> read_csv(std::string_view bytes, std::string_view name) {
  auto header = find_csv_header(bytes, name);
  if (!header) return header.error();
  return CsvReader(bytes, name, *std::move(header)).read();
}

bool has_csv_header(std::string_view bytes) {
  return static_cast<bool>(find_csv_header(bytes, ""));
}

}  // namespace glidewright

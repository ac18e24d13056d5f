#include "formats/csv.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "formats/csv_mapping.hpp"
#include "formats/csv_row.hpp"
#include "formats/fix_order.hpp"
#include "formats/lines.hpp"
#include "formats/number.hpp"
#include "formats/position_text.hpp"
#include "formats/time.hpp"

namespace glidewright {
namespace {

class CsvReader : CsvRow {
 public:
  CsvReader(std::string_view bytes, std::string_view name, CsvHeader header)
      : CsvRow(std::move(header)), bytes_(bytes), name_(name) {}

  Result<CsvLog> read() {
    const auto rows = bytes_.substr(std::min(header().rows_begin, bytes_.size()));
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
  /// A value that may be left out: unreadable ones are counted.
  std::optional<double> optional_number(CsvField field) {
    const auto value = number(field);
    if (!value && !text(field).empty()) repairs_.add(Repair::unreadable_number, offset_);
    return value;
  }

  std::optional<double> scaled(CsvField field) {
    const auto* column = this->column(field);
    if (column == nullptr) return std::nullopt;
    const auto value = optional_number(field);
    if (!value) return std::nullopt;
    return *value * column->scale + column->offset;
  }

  /// Degrees; a plain number first, because nearly all are.
  std::optional<double> angle(CsvField field) {
    const bool minutes = column(field)->unit == "deg_min";
    if (const auto plain = minutes ? std::nullopt : number(field)) return plain;
    std::string written(text(field));
    if (header().decimal == DecimalMark::comma || header().delimiter != ',')
      std::replace(written.begin(), written.end(), ',', '.');
    return read_angle(written, minutes ? AngleForm::degrees_minutes : AngleForm::degrees);
  }

  /// What is wrong with the row; empty when nothing is.
  std::string read_row() {
    ++rows_;
    const auto time = CsvRow::time();
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
    const auto latitude = angle(CsvField::latitude);
    const auto place =
        read_position(latitude, latitude_text, angle(CsvField::longitude), longitude_text, why);
    if (!place) {
      const bool first = !latitude || std::abs(*latitude) > 90.0;
      return fmt::format("{}: {}", column_words(first ? CsvField::latitude : CsvField::longitude), why);
    }
    if (place->latitude_deg == 0.0 && place->longitude_deg == 0.0) {
      repairs_.add(Repair::no_position_yet, offset_);
      return {};
    }
    Fix fix;
    fix.time_unix_s = time;
    fix.segment = segment();
    fix.place = *place;
    fix.altitude_ft = scaled(CsvField::altitude);
    fix.groundspeed_kt = scaled(CsvField::groundspeed);
    if (const auto course = scaled(CsvField::course)) fix.course_true_deg = wrap_360_deg(*course);
    fixes_.push_back({fix, offset_});
    return {};
  }

  /// Counts up where the text changes; segments are numbered in the order of the rows.
  std::uint32_t segment() {
    if (!has(CsvField::segment)) return 0;
    if (!fixes_.empty() && text(CsvField::segment) != segment_text_) ++segment_;
    segment_text_ = text(CsvField::segment);
    return segment_;
  }

  CsvField time_field() const {
    for (const auto field : {CsvField::unix_s, CsvField::time, CsvField::time_of_day}) {
      if (has(field)) return field;
    }
    return CsvField::time;
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
      return Error{fmt::format("{}:{}: {}: time cannot be read; expected UTC such as 2026-05-14T20:02:55Z",
                               name_, line_at(bytes_, repairs_.first_offset(Repair::unreadable_time)),
                               column_words(time_field()))};
    }
    if (fixes_.empty() && panel_.empty()) return Error{fmt::format("{}: no row has a value", name_)};
    CsvLog log;
    if (!fixes_.empty()) {
      auto ordered = order_fixes(std::move(fixes_), repairs_, name_);
      if (!ordered) return ordered.error();
      log.fixes = std::move(ordered->fixes);
      log.freezes = std::move(ordered->freezes);
    }
    // The same rows carry both, so what is dropped from the panel has been counted with the fixes.
    Repairs uncounted;
    keep_increasing(panel_, log.fixes.empty() ? repairs_ : uncounted);
    for (const auto& placed : panel_) log.panel.push_back(placed.row);
    log.notes = repairs_.sentences(bytes_);
    if (zone_missing()) log.notes.push_back("times name no zone; taken as UTC");
    if (header().date_order_unclear)
      log.notes.push_back("dates can be read two ways; taken as day before month");
    for (const auto& column : header().columns) {
      if (!column.unit_assumed) continue;
      const bool speed =
          column.field == CsvField::groundspeed || column.field == CsvField::indicated_airspeed;
      log.notes.push_back(
          fmt::format("column '{}' names no unit; taken as {}", column.header, speed ? "knots" : "feet"));
    }
    return log;
  }

  std::string_view bytes_;
  std::string_view name_;
  std::size_t offset_ = 0;
  std::size_t rows_ = 0;
  std::uint32_t segment_ = 0;
  std::string segment_text_;
  std::vector<Placed<Fix>> fixes_;
  std::vector<Placed<PanelSample>> panel_;
  Repairs repairs_;
};

HeightUnit altitudes_in(const CsvHeader& header) {
  const auto metres = [](const CsvColumn& column) {
    return column.field == CsvField::altitude && column.unit == "m";
  };
  return std::any_of(header.columns.begin(), header.columns.end(), metres) ? HeightUnit::metres
                                                                           : HeightUnit::feet;
}

/// Of the altitudes, and of a pressure altitude beside them that the same header writes in the same unit: who
/// mixed up one has mixed up both. One that is written otherwise is another device's, and stays.
void take_heights_in(HeightUnit said, CsvHeader& header) {
  std::string written;
  for (const CsvField field : {CsvField::pressure_altitude, CsvField::altitude})
    for (const CsvColumn& column : header.columns)
      if (column.field == field) written = column.unit;
  for (CsvColumn& column : header.columns) {
    const bool altitude = column.field == CsvField::altitude;
    const bool beside = column.field == CsvField::pressure_altitude && column.unit == written;
    if (altitude || beside) set_csv_unit(column, said == HeightUnit::feet ? "ft" : "m");
  }
}

}  // namespace

Result<CsvLog> read_csv(std::string_view bytes, std::string_view name, const CsvMapping* mapping,
                        std::optional<HeightUnit> heights) {
  auto header =
      mapping != nullptr ? csv_header_as_mapped(bytes, name, *mapping) : find_csv_header(bytes, name);
  if (!header) return header.error();
  const HeightUnit written = altitudes_in(*header);
  if (heights) take_heights_in(*heights, *header);
  auto log = CsvReader(bytes, name, *std::move(header)).read();
  if (log) log->heights_in = written;
  return log;
}

bool has_csv_header(std::string_view bytes) {
  return static_cast<bool>(find_csv_header(bytes, ""));
}

}  // namespace glidewright

#include "apps/cli/inputs/log_file.hpp"

#include <fmt/format.h>

#include <optional>

#include "formats/accelerometer_csv.hpp"
#include "formats/file.hpp"
#include "formats/number.hpp"
#include "formats/shown.hpp"
#include "formats/time.hpp"
#include "formats/track_log.hpp"
#include "formats/unpack.hpp"

namespace glidewright {

Result<CsvMapping> read_columns(const std::string& file) {
  const auto bytes = read_file(file);
  if (!bytes) return bytes.error();
  return read_csv_mapping_json(*bytes, file);
}

std::optional<HeightUnit> told_height_unit(const std::string& unit) {
  if (unit.empty()) return std::nullopt;
  return unit == "m" ? HeightUnit::metres : HeightUnit::feet;
}

Result<TrackLog> read_log(const LogFiles& files) {
  std::optional<CsvMapping> mapping;
  if (!files.columns.empty()) {
    auto columns = read_columns(files.columns);
    if (!columns) return columns.error();
    mapping = *std::move(columns);
  }
  const CsvMapping* columns = mapping ? &*mapping : nullptr;
  const auto bytes = read_file(files.log);
  if (!bytes) return bytes.error();
  auto log = read_track_log(*bytes, files.log, files.panel.empty() ? columns : nullptr,
                            told_height_unit(files.height_unit));
  if (!log) return log.error();
  if (!files.panel.empty()) {
    const auto panel_bytes = read_file(files.panel);
    if (!panel_bytes) return panel_bytes.error();
    auto panel = read_panel(*panel_bytes, files.panel, columns);
    if (!panel) return panel.error();
    log->panel = std::move(*panel);
  }
  return log;
}

Result<BesideKind> kind_of_beside(const std::string& file, const CsvMapping* columns) {
  if (columns != nullptr) {
    for (const MappedColumn& one : columns->columns)
      if (one.meaning.field == CsvField::acceleration_x) return BesideKind::accelerometer;
    return BesideKind::panel;
  }
  std::string first;
  const auto failed = read_file_in_pieces(file, [&](std::string_view piece) -> std::optional<Error> {
    first = piece;
    return Error{};  // one piece is enough
  });
  if (failed && !failed->sentence.empty()) return *failed;
  if (is_packed(first)) {
    const auto bytes = read_file(file);
    if (!bytes) return bytes.error();
    auto inside = unpack(*bytes, file);
    if (!inside) return inside.error();
    first = std::move(inside->bytes);
  }
  return looks_like_accelerometer(first) ? BesideKind::accelerometer : BesideKind::panel;
}

Result<AccelerometerLog> read_accelerometer_file(const std::string& file, const CsvMapping* columns) {
  AccelerometerCsv reader(file, columns);
  bool packed = false, begun = false;
  const auto failed = read_file_in_pieces(file, [&](std::string_view piece) -> std::optional<Error> {
    packed = packed || (!begun && is_packed(piece));
    begun = true;
    return packed ? std::optional(Error{}) : reader.add(piece);
  });
  if (packed) {
    const auto bytes = read_file(file);
    if (!bytes) return bytes.error();
    return read_accelerometer(*bytes, file, columns);
  }
  if (failed) return *failed;
  return reader.finish();
}

Result<ClockWish> read_clock(const std::string& text, AccelerometerLog& log) {
  if (text.empty()) return ClockWish{};
  if (text == "same") {
    if (!log.counts_from_own_start) return ClockWish{ClockWish::Kind::same, 0.0};
    return Error{
        "--with-clock same: the accelerometer's times count from its own start; expected the moment of its "
        "0, "
        "such as 2026-05-14T20:02:55Z"};
  }
  if (const auto ahead_s = read_number(text); ahead_s && !log.counts_from_own_start)
    return ClockWish{ClockWish::Kind::told, *ahead_s};
  if (const auto moment = unix_seconds(text); moment && log.counts_from_own_start) {
    // Typed by a person or read off a screen: good to seconds, so it is still compared.
    log.start_s += *moment;
    log.counts_from_own_start = false;
    return ClockWish{};
  }
  return Error{
      fmt::format("--with-clock '{}': expected {}", shown(text),
                  log.counts_from_own_start
                      ? "the moment at which the accelerometer's count was 0, such as 2026-05-14T20:02:55Z"
                      : "same, or how many seconds its clock is ahead of the log's, such as +2.5")};
}

}  // namespace glidewright

#include "formats/accelerometer_csv.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "formats/csv_mapping.hpp"
#include "formats/csv_row.hpp"
#include "formats/shown.hpp"
#include "formats/unpack.hpp"

namespace glidewright {
namespace {

constexpr std::size_t k_header_bytes = std::size_t{64} << 10;
constexpr std::size_t k_longest_line = std::size_t{64} << 10;
/// Enough to see what the times count and what the axes measure.
constexpr std::size_t k_rows_looked_at = 400;
constexpr double k_longest_s = 24.0 * 3600.0;
/// A step of the clock as wide as this is believed once the next row confirms it.
constexpr double k_wild_step_s = 30.0;
constexpr double k_slowest_hz = 20.0, k_fastest_hz = 900.0;
/// More than a wild number, less than what a phone can feel, m/s2.
constexpr double k_most_mps2 = 400.0;
constexpr double k_first_moment_unix_s = 946684800.0, k_last_moment_unix_s = 4102444800.0;  // 2000, 2100

struct Reading {
  double time = 0.0;     ///< a moment, or what it counts
  double written = 0.0;  ///< the same as a plain number, where it is one
  std::array<double, 3> acceleration{};
  std::size_t line = 0;
};

}  // namespace

struct AccelerometerCsv::Rows {
  Rows(CsvHeader header, std::string file) : row(std::move(header)), name(std::move(file)) {
    for (std::size_t axis = 0; axis < 3; ++axis) {
      const auto* column = row.column(axis_field(axis));
      named_axes = named_axes || column->header.size() > 1;
      unit_said = unit_said || !column->unit_assumed;
    }
  }

  static CsvField axis_field(std::size_t axis) {
    return static_cast<CsvField>(static_cast<std::size_t>(CsvField::acceleration_x) + axis);
  }
  bool has_moments() const {
    return row.has(CsvField::unix_s) || row.has(CsvField::time) || row.has(CsvField::time_of_day);
  }
  CsvField time_field() const {
    for (const auto field : {CsvField::unix_s, CsvField::time, CsvField::time_of_day})
      if (row.has(field)) return field;
    return CsvField::elapsed;
  }

  void unreadable(std::size_t line, CsvField field) {
    if (unreadable_rows++ == 0) {
      first_unreadable_line = line;
      first_unreadable = row.column_words(field);
      first_text = shown(row.text(field));
    }
  }

  void read(std::string_view text, std::size_t line) {
    if (text.empty() || text.front() == '#') return;
    ++all_rows;
    if (!row.split(text)) {
      ++short_rows;
      if (first_short_line == 0) first_short_line = line;
      return;
    }
    Reading reading;
    reading.line = line;
    for (std::size_t axis = 0; axis < 3; ++axis) {
      const auto value = row.number(axis_field(axis));
      reading.acceleration[axis] = value.value_or(0.0) * row.column(axis_field(axis))->scale;
      if (!value || std::abs(reading.acceleration[axis]) > k_most_mps2)
        return unreadable(line, axis_field(axis));
    }
    std::optional<double> time = has_moments() && !counted ? row.time() : std::nullopt;
    if (time && (*time < k_first_moment_unix_s || *time > k_last_moment_unix_s)) time.reset();
    if (!time) {
      // What looks like no moment may count from the device's own start.
      const auto count = row.number(row.has(CsvField::elapsed) ? CsvField::elapsed : time_field());
      if (!count || (!counted && settled)) return unreadable(line, time_field());
      if (!settled && !counted && !first.empty()) return unreadable(line, time_field());
      counted = true;
      time = count;
    }
    reading.time = *time;
    if (!settled) reading.written = row.number(time_field()).value_or(0.0);
    if (settled) return take(reading);
    first.push_back(reading);
    if (first.size() >= k_rows_looked_at) settle();
  }

  /// Median from one of the first rows to the next: a pause among them does not count.
  double usual_step() const {
    std::vector<double> steps;
    for (std::size_t i = 1; i < first.size(); ++i) steps.push_back(first[i].time - first[i - 1].time);
    if (steps.empty()) return 0.0;
    const auto half = steps.begin() + static_cast<std::ptrdiff_t>(steps.size() / 2);
    std::nth_element(steps.begin(), half, steps.end());
    return *half;
  }

  /// From the first rows: what the times count, and in what the axes are.
  void settle() {
    settled = true;
    if (first.empty()) return;
    // Nanoseconds since the phone was switched on can look like milliseconds since 1970.
    if (!counted && first.back().written > 0.0 && usual_step() > 1.0) {
      counted = true;
      for (Reading& reading : first) reading.time = reading.written;
    }
    if (counted) {
      const double step = usual_step();
      while (step / per_second > 0.1 && per_second < 1e9) per_second *= 1000.0;
      zero = first.front().time;
    }
    double size = 0.0;
    for (const Reading& reading : first)
      size += std::hypot(reading.acceleration[0], reading.acceleration[1], reading.acceleration[2]) /
              static_cast<double>(first.size());
    constexpr double g = 9.80665;
    if (!unit_said && size > 0.85 && size < 1.3) {
      scale = g;
      size *= g;
      notes.push_back("the axes name no unit; taken as g, because they measure about 1 at rest");
    } else if (!unit_said) {
      notes.push_back("the axes name no unit; taken as m/s2");
    }
    gravity = size > 0.6 * g && size < 1.7 * g;
    for (const Reading& reading : std::exchange(first, {})) take(reading);
  }

  void take(const Reading& reading) {
    const double time_s = counted ? (reading.time - zero) / per_second : reading.time;
    std::array<double, 3> acceleration = reading.acceleration;
    for (double& one : acceleration) one *= scale;
    if (last_s && time_s < *last_s) {
      ++fell_back;
      return;
    }
    // A wild time would take all that follows with it: it waits for the next row to confirm it.
    if (last_s && time_s - *last_s > k_wild_step_s &&
        !(held && std::abs(time_s - held->first) < k_wild_step_s)) {
      if (held) ++fell_back;
      held.emplace(time_s, acceleration);
      return;
    }
    if (held && time_s >= held->first && time_s - held->first < k_wild_step_s && held->first > *last_s) {
      add(held->first, held->second);
    } else if (held) {
      ++fell_back;
    }
    held.reset();
    add(time_s, acceleration);
  }

  void add(double time_s, const std::array<double, 3>& acceleration) {
    if (!first_s) first_s = time_s;
    if (time_s - *first_s > k_longest_s) {
      too_long = true;
      return;
    }
    last_s = time_s;
    ++taken;
    meter.add(time_s, acceleration);
  }

  Result<AccelerometerLog> finish() {
    if (!settled) settle();
    if (all_rows == 0) return Error{fmt::format("{}: a header row and no data", name)};
    if (unreadable_rows > 0 && 2 * unreadable_rows > all_rows)
      return Error{fmt::format("{}:{}: {}: '{}' cannot be read; expected {}", name, first_unreadable_line,
                               first_unreadable, first_text,
                               first_unreadable == row.column_words(time_field())
                                   ? "UTC such as 2026-05-14T20:02:55.25Z, or a count that rises"
                                   : "a number")};
    if (2 * short_rows > all_rows)
      return Error{
          fmt::format("{}:{}: the row is too short for the columns of the header", name, first_short_line)};
    if (too_long)
      return Error{fmt::format("{}: more than 24 hours; expected one day of flying, cut it", name)};
    if (!gravity && !named_axes && !unit_said)
      return Error{fmt::format(
          "{}: x, y and z name no unit and hold no gravity: they may be another sensor's; say with "
          "--columns that they are accelerations, or log them with gravity",
          name)};
    AccelerometerLog log = meter.finish();
    // All gaps: what it comes to from end to end.
    if (log.rate_hz == 0.0 && taken > 1 && *last_s > *first_s)
      log.rate_hz = static_cast<double>(taken - 1) / (*last_s - *first_s);
    if (taken < 2 || log.rate_hz < k_slowest_hz || log.rate_hz > k_fastest_hz)
      return Error{fmt::format("{}: {:.4g} readings a second; expected 25 to 400", name, log.rate_hz)};
    log.counts_from_own_start = counted;
    log.notes = notes;
    const auto tell = [&](std::size_t count, const char* what) {
      if (count > 0) log.notes.push_back(fmt::format("{} {}", count, what));
    };
    tell(unreadable_rows, "rows that cannot be read left out");
    tell(short_rows, "rows that are too short left out");
    tell(fell_back, "rows whose time falls back left out");
    if (!counted && row.zone_missing()) log.notes.push_back("times name no zone; taken as UTC");
    return log;
  }

  CsvRow row;
  std::string name;
  bool named_axes = false, unit_said = false;
  bool settled = false, counted = false, gravity = false, too_long = false;
  double per_second = 1.0, zero = 0.0, scale = 1.0;
  std::vector<Reading> first;
  std::vector<std::string> notes;
  std::size_t all_rows = 0, taken = 0, unreadable_rows = 0, short_rows = 0, fell_back = 0;
  std::size_t first_unreadable_line = 0, first_short_line = 0, next_line = 0;
  std::string first_unreadable, first_text;
  std::optional<double> first_s, last_s;
  std::optional<std::pair<double, std::array<double, 3>>> held;
  VibrationMeter meter;
};

AccelerometerCsv::AccelerometerCsv(std::string name, const CsvMapping* mapping)
    : name_(std::move(name)), mapping_(mapping) {}
AccelerometerCsv::~AccelerometerCsv() = default;

std::optional<Error> AccelerometerCsv::add(std::string_view bytes) {
  pending_ += bytes;
  return take_lines(false);
}

std::optional<Error> AccelerometerCsv::take_lines(bool last) {
  if (!rows_) {
    if (!last && pending_.size() < k_header_bytes) return std::nullopt;
    auto header = mapping_ != nullptr ? csv_header_as_mapped(pending_, name_, *mapping_)
                                      : find_csv_header(pending_, name_);
    if (!header) return header.error();
    if (!header->find(CsvField::acceleration_x) || !header->find(CsvField::acceleration_y) ||
        !header->find(CsvField::acceleration_z))
      return Error{
          fmt::format("{}: no three axes of acceleration; expected columns such as accel_x_mps2, "
                      "accel_y_mps2, accel_z_mps2",
                      name_)};
    const std::size_t begin = std::min(header->rows_begin, pending_.size());
    const std::size_t line = header->first_row_line;
    rows_ = std::make_unique<Rows>(*std::move(header), name_);
    rows_->next_line = line;
    pending_.erase(0, begin);
  }
  std::size_t begin = 0;
  while (begin < pending_.size()) {
    std::size_t end = pending_.find('\n', begin);
    if (end == std::string::npos) {
      if (!last && pending_.size() - begin < k_longest_line) break;
      if (!last) return Error{fmt::format("{}:{}: the line does not end", name_, rows_->next_line)};
      end = pending_.size();
    }
    std::string_view text = std::string_view(pending_).substr(begin, end - begin);
    if (!text.empty() && text.back() == '\r') text.remove_suffix(1);
    rows_->read(text, rows_->next_line++);
    begin = end + 1;
  }
  pending_.erase(0, std::min(begin, pending_.size()));
  return std::nullopt;
}

Result<AccelerometerLog> AccelerometerCsv::finish() {
  if (const auto wrong = take_lines(true)) return *wrong;
  return rows_->finish();
}

bool looks_like_accelerometer(std::string_view first_bytes) {
  const auto header = find_csv_header(first_bytes, "");
  return header && is_accelerometer(*header);
}

Result<AccelerometerLog> read_accelerometer(std::string_view bytes, std::string_view name,
                                            const CsvMapping* mapping) {
  std::string unpacked, file(name);
  if (is_packed(bytes)) {
    auto inside = unpack(bytes, name);
    if (!inside) return inside.error();
    unpacked = std::move(inside->bytes);
    file = std::move(inside->name);
    bytes = unpacked;
  }
  AccelerometerCsv reader(file, mapping);
  constexpr std::size_t piece = std::size_t{1} << 20;
  for (std::size_t at = 0; at < bytes.size(); at += piece)
    if (const auto wrong = reader.add(bytes.substr(at, piece))) return *wrong;
  return reader.finish();
}

}  // namespace glidewright

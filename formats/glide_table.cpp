#include "formats/glide_table.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <cmath>
#include <map>
#include <optional>

#include "engine/air/atmosphere.hpp"
#include "formats/csv_header.hpp"
#include "formats/lines.hpp"
#include "formats/number.hpp"
#include "formats/shown.hpp"

namespace glidewright {
namespace {

enum class Column {
  airspeed,
  sink,
  glide_ratio,
  glide_angle,
  flight_path_angle,
  flap,
  weight,
  altitude,
  temperature,
  density_ratio,
  density,
  bank,
  slip,
  airspeed_deviation
};

enum class Dimension { none, speed, rate, angle, mass, length, temperature, density };

struct ColumnName {
  std::string_view stem;
  Column column;
  Dimension dimension;
  double low, high;  ///< believable, in the unit of the program
};

/// Where two names of one column stand in a table, the one further up is read.
constexpr ColumnName k_columns[] = {
    {"cas", Column::airspeed, Dimension::speed, 30.0, 160.0},
    {"calibrated_airspeed", Column::airspeed, Dimension::speed, 30.0, 160.0},
    {"steady_ias_mean", Column::airspeed, Dimension::speed, 30.0, 160.0},
    {"ias_mean", Column::airspeed, Dimension::speed, 30.0, 160.0},
    {"ias", Column::airspeed, Dimension::speed, 30.0, 160.0},
    {"indicated_airspeed", Column::airspeed, Dimension::speed, 30.0, 160.0},
    {"ias_target", Column::airspeed, Dimension::speed, 30.0, 160.0},
    {"steady_sink", Column::sink, Dimension::rate, 100.0, 6000.0},
    {"sink", Column::sink, Dimension::rate, 100.0, 6000.0},
    {"sink_rate", Column::sink, Dimension::rate, 100.0, 6000.0},
    {"glide_ratio", Column::glide_ratio, Dimension::none, 1.5, 30.0},
    {"glide_angle", Column::glide_angle, Dimension::angle, 1.5, 40.0},
    {"path_angle", Column::glide_angle, Dimension::angle, 1.5, 40.0},
    {"flight_path_angle", Column::flight_path_angle, Dimension::angle, -40.0, -1.5},
    {"flap", Column::flap, Dimension::angle, 0.0, 60.0},
    {"flaps", Column::flap, Dimension::angle, 0.0, 60.0},
    {"weight", Column::weight, Dimension::mass, 400.0, 12500.0},
    {"pressure_altitude", Column::altitude, Dimension::length, -2000.0, 20000.0},
    {"altitude", Column::altitude, Dimension::length, -2000.0, 20000.0},
    {"oat", Column::temperature, Dimension::temperature, -60.0, 60.0},
    {"temperature", Column::temperature, Dimension::temperature, -60.0, 60.0},
    {"density_ratio", Column::density_ratio, Dimension::none, 0.4, 1.2},
    {"density", Column::density, Dimension::density, 0.5, 1.5},
    {"steady_bank_mean", Column::bank, Dimension::angle, -70.0, 70.0},
    {"bank", Column::bank, Dimension::angle, -70.0, 70.0},
    {"bank_target", Column::bank, Dimension::angle, -70.0, 70.0},
    {"slip", Column::slip, Dimension::none, 0.0, 1.0},
    {"steady_ias_max_dev", Column::airspeed_deviation, Dimension::speed, 0.0, 100.0},
    {"ias_max_dev", Column::airspeed_deviation, Dimension::speed, 0.0, 100.0},
};

struct UnitName {
  std::string_view name;
  Dimension dimension;
  double scale;
};

constexpr double k_fpm_per_metre_per_second = 60.0 / k_metres_per_foot;
constexpr double k_pounds_per_kilogram = 1.0 / 0.45359237;  // exact: international pound
constexpr UnitName k_units[] = {
    {"kt", Dimension::speed, 1.0},
    {"kts", Dimension::speed, 1.0},
    {"kmh", Dimension::speed, 1000.0 / k_metres_per_nautical_mile},
    {"mph", Dimension::speed, 1609.344 / k_metres_per_nautical_mile},
    {"mps", Dimension::speed, 3600.0 / k_metres_per_nautical_mile},
    {"fpm", Dimension::rate, 1.0},
    {"fps", Dimension::rate, 60.0},
    {"mps", Dimension::rate, k_fpm_per_metre_per_second},
    {"deg", Dimension::angle, 1.0},
    {"lb", Dimension::mass, 1.0},
    {"kg", Dimension::mass, k_pounds_per_kilogram},
    {"ft", Dimension::length, 1.0},
    {"m", Dimension::length, 1.0 / k_metres_per_foot},
    {"c", Dimension::temperature, 1.0},
    {"kg_m3", Dimension::density, 1.0},
    {"kgm3", Dimension::density, 1.0},
};

constexpr double k_sea_level_density_kg_m3 = 1.225;  // ICAO standard atmosphere
constexpr double k_steady_within_kt = 1.0;

struct TableColumn {
  const ColumnName* name = nullptr;
  double scale = 1.0;
  std::size_t index = 0;
  std::string header;
};

/// "IAS mean [kt]" -> "ias_mean_kt".
std::string plain_name(std::string_view header) {
  std::string plain;
  for (const char c : trim_blanks(header)) {
    if (c == '[' || c == ']' || c == '(' || c == ')' || c == '/') continue;
    const bool joins = c == ' ' || c == '-';
    plain += joins ? '_' : static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  }
  return plain;
}

/// The column that a header names; or what is wrong with a header that names one without its unit.
struct Named {
  std::optional<TableColumn> column;
  std::string problem;
};

Named named_column(std::string_view header) {
  const std::string plain = plain_name(header);
  for (const auto& name : k_columns) {
    if (plain.rfind(name.stem, 0) != 0) continue;
    const std::string_view rest = std::string_view(plain).substr(name.stem.size());
    if (rest.empty() && name.dimension == Dimension::none) return {TableColumn{&name, 1.0, 0, plain}, {}};
    for (const auto& unit : k_units) {
      const bool fits = unit.dimension == name.dimension && rest.size() == unit.name.size() + 1 &&
                        rest.front() == '_' && rest.substr(1) == unit.name;
      if (fits) return {TableColumn{&name, unit.scale, 0, plain}, {}};
    }
    if (!rest.empty()) continue;
    std::string units;
    for (const auto& unit : k_units) {
      if (unit.dimension == name.dimension)
        units += fmt::format("{}{}_{}", units.empty() ? "" : ", ", plain, unit.name);
    }
    return {std::nullopt, fmt::format("column '{}' names no unit; expected {}", shown(plain), units)};
  }
  return {};
}

using Columns = std::map<Column, TableColumn>;

struct Header {
  Columns columns;
  char delimiter = ',';
  std::string problem;
};

char delimiter_of(std::string_view line) {
  char best = ',';
  for (const char c : {';', '\t'}) {
    if (std::count(line.begin(), line.end(), c) > std::count(line.begin(), line.end(), best)) best = c;
  }
  return best;
}

Header header_of(std::string_view line) {
  Header header;
  header.delimiter = delimiter_of(line);
  CsvFields fields(line, header.delimiter);
  std::size_t index = 0;
  for (auto field = fields.next(); field; field = fields.next(), ++index) {
    auto named = named_column(*field);
    if (header.problem.empty()) header.problem = named.problem;
    if (!named.column) continue;
    named.column->index = index;
    const auto [at, added] = header.columns.try_emplace(named.column->name->column, *named.column);
    if (!added && named.column->name < at->second.name) at->second = *named.column;
  }
  return header;
}

bool has_descent(const Columns& columns) {
  return columns.contains(Column::sink) || columns.contains(Column::glide_ratio) ||
         columns.contains(Column::glide_angle) || columns.contains(Column::flight_path_angle);
}

std::optional<std::string_view> header_line(CsvLines& lines) {
  for (auto line = lines.next(); line; line = lines.next()) {
    if (!trim_blanks(*line).empty() && line->front() != '#') return line;
  }
  return std::nullopt;
}

/// One row; the first thing wrong with it is kept.
class Row {
 public:
  Row(std::string_view line, const Header& header) : header_(header) {
    CsvFields fields(line, header.delimiter);
    for (auto field = fields.next(); field; field = fields.next()) texts_.emplace_back(trim_blanks(*field));
  }

  bool has(Column column) const { return header_.columns.contains(column); }
  const std::string& problem() const { return problem_; }

  /// In the program's unit; `otherwise` where there is no such column.
  double value(Column column, double otherwise = 0.0) {
    const auto found = header_.columns.find(column);
    if (found == header_.columns.end()) return otherwise;
    const auto& [name, scale, index, header] = found->second;
    const std::string written = index < texts_.size() ? texts_[index] : std::string();
    if (column == Column::slip && (written == "none" || written == "full"))
      return written == "full" ? 1.0 : 0.0;
    const bool comma = header_.delimiter != ',' && written.find(',') != std::string::npos;
    const auto number = comma ? read_decimal_comma_number(written) : read_number(written);
    if (!number) {
      say(written.empty() ? fmt::format("column {} is empty; expected a number", header)
                          : fmt::format("column {}: '{}' is no number", header, shown(written)));
      return otherwise;
    }
    const double value = *number * scale;
    if (value < name->low || value > name->high) {
      say(fmt::format("column {}: {:.10g}; expected {:.4g} to {:.4g}", header, *number, name->low / scale,
                      name->high / scale));
    }
    return value;
  }

 private:
  void say(std::string problem) {
    if (problem_.empty()) problem_ = std::move(problem);
  }

  const Header& header_;
  std::vector<std::string> texts_;
  std::string problem_;
};

double density_ratio_of(Row& row) {
  if (row.has(Column::density_ratio)) return row.value(Column::density_ratio);
  if (row.has(Column::density)) return row.value(Column::density) / k_sea_level_density_kg_m3;
  const Feet altitude{row.value(Column::altitude)};
  return density_ratio(altitude,
                       Celsius{row.value(Column::temperature, standard_temperature(altitude).value)});
}

void set_descent(Row& row, LoggedGlide& glide) {
  if (row.has(Column::sink)) {
    glide.sink_fpm = row.value(Column::sink);
    return;
  }
  glide.measure = GlideMeasure::path_angle;
  if (row.has(Column::glide_ratio)) {
    glide.angle_deg = std::atan(1.0 / row.value(Column::glide_ratio, 1.0)) / k_radians_per_degree;
  } else if (row.has(Column::glide_angle)) {
    glide.angle_deg = row.value(Column::glide_angle);
  } else {
    glide.angle_deg = -row.value(Column::flight_path_angle);
  }
}

LoggedGlide glide_of(Row& row, const GlideTableDefaults& defaults) {
  LoggedGlide glide;
  glide.calibrated_airspeed_kt = row.value(Column::airspeed);
  glide.flap_deg = row.value(Column::flap);
  glide.weight_lb = row.value(Column::weight, defaults.weight_lb);
  if (!row.has(Column::weight)) glide.weight_sd_relative = 0.03;
  glide.density_ratio = density_ratio_of(row);
  glide.slip = row.value(Column::slip);
  const double bank_deg = row.value(Column::bank);
  glide.bank_deg = glide.slip > 0.0 ? 0.0 : bank_deg;
  set_descent(row, glide);
  return glide;
}

void note_what_is_missing(const Header& header, const GlideTableDefaults& defaults, GlideTable& table) {
  const auto has = [&](Column column) { return header.columns.contains(column); };
  if (!has(Column::weight))
    table.notes.push_back(fmt::format("no weight column: {:.0f} lb taken for all", defaults.weight_lb));
  if (!has(Column::flap)) table.notes.push_back("no flap column: taken as flaps up");
  if (!has(Column::density_ratio) && !has(Column::density) && !has(Column::altitude))
    table.notes.push_back("no altitude or density column: taken as sea level in the standard atmosphere");
}

}  // namespace

bool is_glide_table(std::string_view bytes) {
  CsvLines lines(bytes);
  const auto line = header_line(lines);
  if (!line) return false;
  const Header header = header_of(*line);
  return header.columns.contains(Column::airspeed) && has_descent(header.columns);
}

Result<GlideTable> read_glide_table(std::string_view bytes, std::string_view name,
                                    const GlideTableDefaults& defaults) {
  CsvLines lines(bytes);
  const auto first = header_line(lines);
  if (!first) return Error{fmt::format("{}: the file is empty; expected a table of glides", name)};
  const auto at = [&] { return fmt::format("{}:{}: ", name, line_at(bytes, lines.offset())); };
  const Header header = header_of(*first);
  if (!header.problem.empty()) return Error{at() + header.problem};
  if (!header.columns.contains(Column::airspeed))
    return Error{at() + "no airspeed column; expected cas_kt, ias_kt or ias_mean_kt"};
  if (!has_descent(header.columns))
    return Error{at() + "no descent column; expected sink_fpm, glide_ratio or glide_angle_deg"};

  GlideTable table;
  int unsteady = 0;
  for (auto line = lines.next(); line; line = lines.next()) {
    if (trim_blanks(*line).empty() || line->front() == '#') continue;
    Row row(*line, header);
    LoggedGlide glide = glide_of(row, defaults);
    const double deviation_kt = std::abs(row.value(Column::airspeed_deviation));
    if (!row.problem().empty()) return Error{at() + row.problem()};
    glide.line = line_at(bytes, lines.offset());
    if (deviation_kt > k_steady_within_kt) {
      ++unsteady;
    } else {
      table.glides.push_back(glide);
    }
  }
  if (unsteady > 0)
    table.notes.push_back(
        fmt::format("{} rows left out, their airspeed strayed by more than 1 kt", unsteady));
  note_what_is_missing(header, defaults, table);
  return table;
}

}  // namespace glidewright

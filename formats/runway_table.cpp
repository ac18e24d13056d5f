#include "formats/runway_table.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>

#include "engine/track/geodesy.hpp"
#include "formats/csv_header.hpp"
#include "formats/number.hpp"
#include "formats/shown.hpp"
#include "formats/text_lines.hpp"

namespace glidewright {
namespace {

constexpr double k_imported_sd_ft = 60.0;
constexpr double k_shortest_ft = 300.0, k_longest_ft = 20000.0;

enum Column : std::size_t {
  k_ident,
  k_length,
  k_width,
  k_closed,
  k_low,
  k_high = k_low + 6,
  k_column_count = k_high + 6
};
/// Within one end.
enum EndColumn : std::size_t { k_name, k_latitude, k_longitude, k_elevation, k_heading, k_displaced };

constexpr std::array<std::string_view, k_column_count> k_columns = {
    "airport_ident",    "length_ft",
    "width_ft",         "closed",
    "le_ident",         "le_latitude_deg",
    "le_longitude_deg", "le_elevation_ft",
    "le_heading_degT",  "le_displaced_threshold_ft",
    "he_ident",         "he_latitude_deg",
    "he_longitude_deg", "he_elevation_ft",
    "he_heading_degT",  "he_displaced_threshold_ft"};

using Row = std::array<std::string, k_column_count>;

struct WrittenEnd {
  std::string designator;
  std::optional<Geodetic> place;
  std::optional<double> elevation_ft, heading_deg;
  double displaced_ft = 0.0;
};

std::optional<double> within(std::string_view text, double low, double high) {
  const auto value = read_number(text);
  if (!value || *value < low || *value > high) return std::nullopt;
  return value;
}

WrittenEnd written_end(const Row& row, std::size_t first) {
  WrittenEnd end;
  end.designator = row[first + k_name];
  const auto latitude = within(row[first + k_latitude], -90.0, 90.0);
  const auto longitude = within(row[first + k_longitude], -180.0, 180.0);
  if (latitude && longitude) end.place = Geodetic{*latitude, *longitude == 180.0 ? -180.0 : *longitude};
  end.elevation_ft = within(row[first + k_elevation], -1500.0, 20000.0);
  end.heading_deg = within(row[first + k_heading], 0.0, 360.0);
  end.displaced_ft = within(row[first + k_displaced], 0.0, 10000.0).value_or(0.0);
  return end;
}

Geodetic moved(Geodetic from, double bearing_deg, double distance_ft) {
  Runway line;
  line.threshold = from;
  line.true_bearing = Degrees{bearing_deg};
  return RunwayFrame(line, Feet{0.0}).to_geodetic({distance_ft, 0.0});
}

/// Landing at `near`, rolling towards `far`. None where direction or place cannot be had.
std::optional<RunwayEnd> landing_at(const Row& row, const WrittenEnd& near, const WrittenEnd& far) {
  if (near.designator.empty() || (!near.place && !far.place)) return std::nullopt;
  RunwayEnd end;
  Runway& runway = end.runway;
  runway.airfield = row[k_ident];
  runway.designator = near.designator;
  const auto length = within(row[k_length], k_shortest_ft, k_longest_ft);
  double length_ft = length.value_or(0.0);
  double position_sd_ft = k_imported_sd_ft;
  std::optional<double> bearing = near.heading_deg;
  if (!bearing && far.heading_deg) bearing = wrap_360_deg(*far.heading_deg + 180.0);
  if (near.place && far.place) {
    const Geodesic ends = geodesic_between(*near.place, *far.place);
    const double apart_ft = to_feet(ends.distance).value;
    if (apart_ft < k_shortest_ft || apart_ft > k_longest_ft) return std::nullopt;
    bearing = ends.azimuth_from.value;
    if (!length) length_ft = apart_ft;
    position_sd_ft = std::max(k_imported_sd_ft, 0.5 * std::abs(apart_ft - length_ft));
  }
  if (!bearing || length_ft <= 0.0) return std::nullopt;
  Geodetic beginning;
  if (near.place) {
    beginning = *near.place;
  } else {
    beginning = moved(*far.place, wrap_360_deg(*bearing + 180.0), length_ft);
    end.notes.emplace_back("its own end has no coordinates: placed from the other end, heading and length");
    position_sd_ft = std::max(position_sd_ft, 100.0);
  }
  if (!near.place || !far.place) position_sd_ft = std::max(position_sd_ft, 100.0);
  runway.true_bearing = Degrees{wrap_360_deg(*bearing)};
  runway.threshold = near.displaced_ft > 0.0 ? moved(beginning, *bearing, near.displaced_ft) : beginning;
  runway.length = Feet{length_ft - near.displaced_ft};
  if (runway.length.value < k_shortest_ft) return std::nullopt;
  if (near.displaced_ft > 0.0)
    end.notes.push_back(fmt::format("threshold displaced by {:.0f} ft", near.displaced_ft));
  if (const auto elevation = near.elevation_ft ? near.elevation_ft : far.elevation_ft) {
    runway.elevation = Feet{*elevation};
  } else {
    end.notes.emplace_back("no elevation in the table: taken as sea level");
  }
  if (near.elevation_ft && far.elevation_ft)
    runway.slope_percent =
        std::clamp(100.0 * (*far.elevation_ft - *near.elevation_ft) / length_ft, -5.0, 5.0);
  if (const auto width = within(row[k_width], 10.0, 1000.0)) runway.width = Feet{*width};
  runway.position_sd = Feet{position_sd_ft};
  end.notes.push_back(fmt::format("place from imported data, within about {:.0f} ft", 2.0 * position_sd_ft));
  return end;
}

bool same_ident(std::string_view a, std::string_view b) {
  const auto upper = [](char c) { return c >= 'a' && c <= 'z' ? static_cast<char>(c - 'a' + 'A') : c; };
  return a.size() == b.size() &&
         std::equal(a.begin(), a.end(), b.begin(), [&](char x, char y) { return upper(x) == upper(y); });
}

/// Goes through the rows; `use(row)` is called for each that has all columns, `broken()` for the others.
template <class Use, class Broken>
std::optional<Error> each_row(std::string_view bytes, std::string_view name, Use use, Broken broken) {
  if (bytes.substr(0, 3) == "\xEF\xBB\xBF") bytes.remove_prefix(3);
  TextLines lines(bytes);
  const auto header = lines.next();
  std::array<std::size_t, k_column_count> at{};
  at.fill(std::string_view::npos);
  if (header) {
    CsvFields fields(header->text, ',');
    std::size_t column = 0;
    for (auto field = fields.next(); field; field = fields.next(), ++column)
      for (std::size_t i = 0; i < k_column_count; ++i)
        if (*field == k_columns[i]) at[i] = column;
  }
  for (std::size_t i = 0; i < k_column_count; ++i)
    if (at[i] == std::string_view::npos)
      return Error{fmt::format("{}:1: no column {}; expected the open table runways.csv with its header",
                               name, k_columns[i])};
  const std::size_t last = *std::max_element(at.begin(), at.end());
  while (const auto line = lines.next()) {
    if (line->text.empty()) continue;
    Row row;
    CsvFields fields(line->text, ',');
    std::size_t column = 0;
    for (auto field = fields.next(); field && column <= last; field = fields.next(), ++column)
      for (std::size_t i = 0; i < k_column_count; ++i)
        if (at[i] == column) row[i] = *field;
    if (column <= last || row[k_ident].empty()) {
      broken();
    } else {
      use(row);
    }
  }
  return std::nullopt;
}

}  // namespace

Result<RunwayTableCounts> check_runway_table(std::string_view bytes, std::string_view name) {
  RunwayTableCounts counts;
  const auto failed = each_row(
      bytes, name,
      [&](const Row& row) {
        ++counts.rows;
        if (row[k_closed] == "1") {
          ++counts.closed;
          return;
        }
        const WrittenEnd low = written_end(row, k_low), high = written_end(row, k_high);
        if (!low.place && !high.place) {
          ++counts.without_place;
          return;
        }
        for (const auto& usable : {landing_at(row, low, high), landing_at(row, high, low)})
          ++(usable ? counts.ends : counts.without_direction);
      },
      [&] { ++counts.rows, ++counts.unreadable; });
  if (failed) return *failed;
  return counts;
}

Result<std::vector<RunwayEnd>> runways_of(std::string_view bytes, std::string_view name,
                                          std::string_view ident) {
  std::vector<RunwayEnd> ends;
  const auto failed = each_row(
      bytes, name,
      [&](const Row& row) {
        if (row[k_closed] == "1" || !same_ident(row[k_ident], ident)) return;
        const WrittenEnd low = written_end(row, k_low), high = written_end(row, k_high);
        for (auto& usable : {landing_at(row, low, high), landing_at(row, high, low)})
          if (usable) ends.push_back(*usable);
      },
      [] {});
  if (failed) return *failed;
  return ends;
}

Result<std::vector<std::string>> idents_beginning(std::string_view bytes, std::string_view name,
                                                  std::string_view text, std::size_t most) {
  std::vector<std::string> idents;
  const auto failed = each_row(
      bytes, name,
      [&](const Row& row) {
        if (idents.size() >= most || !same_ident(std::string_view(row[k_ident]).substr(0, text.size()), text))
          return;
        if (idents.empty() || idents.back() != row[k_ident]) idents.push_back(row[k_ident]);
      },
      [] {});
  if (failed) return *failed;
  return idents;
}

bool is_runway_name(std::string_view text) {
  const auto slash = text.find('/');
  if (slash == std::string_view::npos || slash < 2 || slash > 8) return false;
  const auto ident = text.substr(0, slash), designator = text.substr(slash + 1);
  const bool letters = std::all_of(ident.begin(), ident.end(), [](char c) {
    return (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '-';
  });
  return letters && !designator.empty() && designator.size() <= 3 &&
         designator.find('.') == std::string_view::npos;
}

}  // namespace glidewright

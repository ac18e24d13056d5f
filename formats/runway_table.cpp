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

constexpr double k_imported_sd_ft = 60.0, k_one_ended_sd_ft = 100.0;
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

/// From one end of a runway to the other, as the table places them.
struct AcrossEnds {
  double bearing_deg = 0.0;
  double apart_ft = 0.0;
};
std::optional<AcrossEnds> across_ends(const WrittenEnd& near, const WrittenEnd& far) {
  if (!near.place || !far.place) return std::nullopt;
  const Geodesic ends = geodesic_between(*near.place, *far.place);
  return AcrossEnds{ends.azimuth_from.value, to_feet(ends.distance).value};
}

/// True, as written for either end.
std::optional<double> written_bearing_deg(const WrittenEnd& near, const WrittenEnd& far) {
  if (near.heading_deg) return near.heading_deg;
  if (far.heading_deg) return wrap_360_deg(*far.heading_deg + 180.0);
  return std::nullopt;
}

/// Where the paved runway begins at `near`; what is derived goes to the notes.
Geodetic beginning_of(const WrittenEnd& near, const WrittenEnd& far, double bearing_deg, double length_ft,
                      std::vector<std::string>& notes) {
  if (near.place) return *near.place;
  notes.emplace_back("its own end has no coordinates: placed from the other end, heading and length");
  return moved(*far.place, wrap_360_deg(bearing_deg + 180.0), length_ft);
}

/// Landing at `near`, rolling towards `far`; or why that cannot be had from the table.
Result<RunwayEnd> landing_at(const Row& row, const WrittenEnd& near, const WrittenEnd& far) {
  if (near.designator.empty()) return Error{"this end has no designator"};
  if (!near.place && !far.place) return Error{"neither end has coordinates"};
  RunwayEnd end;
  Runway& runway = end.runway;
  runway.airfield = row[k_ident];
  runway.designator = near.designator;
  const auto length = within(row[k_length], k_shortest_ft, k_longest_ft);
  const auto across = across_ends(near, far);
  if (across && (across->apart_ft < k_shortest_ft || across->apart_ft > k_longest_ft))
    return Error{fmt::format("the coordinates of its ends lie {:.0f} ft apart", across->apart_ft)};
  const auto written_deg = written_bearing_deg(near, far);
  if (!across && !written_deg)
    return Error{"only one end has coordinates, and no heading is written: no true bearing can be had"};
  if (!across && !length)
    return Error{
        fmt::format("only one end has coordinates, and no length between {:.0f} and {:.0f} ft is written",
                    k_shortest_ft, k_longest_ft)};
  if (across && !written_deg)
    end.notes.emplace_back("no heading in the table: true bearing from the coordinates of both ends");
  const double bearing_deg = across ? across->bearing_deg : *written_deg;
  const double length_ft = length ? *length : across->apart_ft;
  runway.length = Feet{length_ft - near.displaced_ft};
  if (runway.length.value < k_shortest_ft)
    return Error{fmt::format("{:.0f} ft are left beyond its displaced threshold", runway.length.value)};
  runway.true_bearing = Degrees{wrap_360_deg(bearing_deg)};
  const Geodetic beginning = beginning_of(near, far, bearing_deg, length_ft, end.notes);
  runway.threshold = near.displaced_ft > 0.0 ? moved(beginning, bearing_deg, near.displaced_ft) : beginning;
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
  runway.position_sd = Feet{across ? std::max(k_imported_sd_ft, 0.5 * std::abs(across->apart_ft - length_ft))
                                   : k_one_ended_sd_ft};
  end.notes.push_back(
      fmt::format("place from imported data, within about {:.0f} ft", 2.0 * runway.position_sd.value));
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

Result<AirfieldRunways> runways_of(std::string_view bytes, std::string_view name, std::string_view ident) {
  AirfieldRunways runways;
  const auto add = [&](const Row& row, const WrittenEnd& near, const WrittenEnd& far) {
    auto end = row[k_closed] == "1" ? Result<RunwayEnd>(Error{"closed"}) : landing_at(row, near, far);
    if (end)
      runways.ends.push_back(*std::move(end));
    else
      runways.left_out.push_back({row[k_ident], near.designator, end.error().sentence});
  };
  const auto failed = each_row(
      bytes, name,
      [&](const Row& row) {
        if (!same_ident(row[k_ident], ident)) return;
        const WrittenEnd low = written_end(row, k_low), high = written_end(row, k_high);
        add(row, low, high);
        // A pad or a strip that is named once has one end only.
        if (!high.designator.empty() || high.place) add(row, high, low);
      },
      [] {});
  if (failed) return *failed;
  return runways;
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

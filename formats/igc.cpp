#include "formats/igc.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <optional>

#include "formats/fix_order.hpp"
#include "formats/lines.hpp"
#include "formats/text_lines.hpp"
#include "formats/time.hpp"

namespace glidewright {
namespace {

constexpr double k_day_s = 86400.0;
constexpr double k_half_day_s = 43200.0;
constexpr double k_kilometres_per_nautical_mile = 1e-3 * k_metres_per_nautical_mile;

/// Columns of an extension, from 0.
struct Field {
  std::size_t first = 0;
  std::size_t width = 0;
};

/// What the I record adds to each B record and is used here.
struct Extensions {
  std::optional<Field> latitude_decimals;
  std::optional<Field> longitude_decimals;
  std::optional<Field> second_decimals;
  std::optional<Field> airspeed_kmh;
};

/// Digits only; none otherwise.
std::optional<int> digits(std::string_view text) {
  if (text.empty() || text.size() > 9) return std::nullopt;
  int value = 0;
  for (const char c : text) {
    if (c < '0' || c > '9') return std::nullopt;
    value = 10 * value + (c - '0');
  }
  return value;
}

std::optional<int> digits(std::string_view line, Field field) {
  if (line.size() < field.first + field.width) return std::nullopt;
  return digits(line.substr(field.first, field.width));
}

/// Digits after the point, 0 to 1.
double fraction(std::string_view line, const std::optional<Field>& field) {
  if (!field) return 0.0;
  const auto value = digits(line, *field);
  return value ? *value * std::pow(10.0, -static_cast<double>(field->width)) : 0.0;
}

/// Five characters, "-0042" allowed.
std::optional<double> altitude_m(std::string_view text) {
  const bool below = !text.empty() && text.front() == '-';
  const auto size = digits(below ? text.substr(1) : text);
  if (!size) return std::nullopt;
  return below ? -*size : *size;
}

/// "DDMMmmm" or "DDDMMmmm", with more decimals of the minute.
std::optional<double> angle_deg(std::string_view text, std::size_t degree_digits,
                                double more_of_a_thousandth) {
  const auto degrees = digits(text.substr(0, degree_digits));
  const auto minutes = digits(text.substr(degree_digits, 5));
  if (!degrees || !minutes || *minutes >= 60000) return std::nullopt;
  return *degrees + (*minutes + more_of_a_thousandth) / 60000.0;
}

/// Days since 1970 from "DDMMYY"; the century begins in 1980, before which there were no such recorders.
std::optional<double> date_s(std::string_view text) {
  const auto day = digits(text.substr(0, 2)), month = digits(text.substr(2, 2)),
             year = digits(text.substr(4, 2));
  if (!day || !month || !year) return std::nullopt;
  const int full_year = *year + (*year < 80 ? 2000 : 1900);
  const auto days = read_date(fmt::format("{:04}-{:02}-{:02}", full_year, *month, *day));
  if (!days) return std::nullopt;
  return static_cast<double>(*days) * k_day_s;
}

/// What a fix has beside its place; a panel's sample is five times as long, and most logs have none of the
/// rest.
struct Beside {
  double time_unix_s = 0.0;
  std::optional<double> pressure_altitude_ft;
  std::optional<double> airspeed_kt;
};

class IgcReader {
 public:
  IgcReader(std::string_view bytes, std::string_view name) : bytes_(bytes), name_(name) {}

  Result<TrackLog> read() {
    TextLines lines(bytes_);
    while (const auto line = lines.next()) {
      if (line->text.empty()) continue;
      offset_ = line->offset;
      switch (line->text.front()) {
        case 'B':
          read_fix(line->text);
          break;
        case 'H':
          read_header(line->text);
          break;
        case 'I':
          read_extensions(line->text);
          break;
        default:  // turn points, events, comments, signature: nothing that is used here
          break;
      }
    }
    return finish();
  }

 private:
  void read_header(std::string_view line) {
    if (line.size() < 11 || line.substr(2, 3) != "DTE") return;
    const auto begin = line.find_first_of("0123456789", 5);
    if (begin == std::string_view::npos || line.size() < begin + 6) return;
    const auto day = date_s(line.substr(begin, 6));
    if (!day) return;
    if (day_s_ && fixes_.empty())
      notes_.emplace_back("more than one date before the first fix; the last one counts");
    day_s_ = *day;
    last_time_of_day_s_ = -1.0;
  }

  void read_extensions(std::string_view line) {
    extensions_ = {};
    for (std::size_t at = 3; at + 7 <= line.size(); at += 7) {
      const auto first = digits(line.substr(at, 2)), last = digits(line.substr(at + 2, 2));
      if (!first || !last || *first < 36 || *last < *first) continue;
      const Field field{static_cast<std::size_t>(*first - 1), static_cast<std::size_t>(*last - *first + 1)};
      const auto code = line.substr(at + 4, 3);
      if (code == "LAD") extensions_.latitude_decimals = field;
      if (code == "LOD") extensions_.longitude_decimals = field;
      if (code == "TDS") extensions_.second_decimals = field;
      // Whole kilometres an hour only: what other widths mean differs between recorders.
      if (code == "IAS" && field.width == 3) extensions_.airspeed_kmh = field;
    }
  }

  /// "BHHMMSSDDMMmmmNDDDMMmmmEVPPPPPGGGGG"
  void read_fix(std::string_view line) {
    ++records_;
    if (line.size() < 35) return repairs_.add(Repair::unreadable_line, offset_);
    const auto time_of_day = time_of_day_s(line);
    const auto place = place_of(line);
    const char validity = line[24];
    if (!time_of_day || !place || (validity != 'A' && validity != 'V'))
      return repairs_.add(Repair::unreadable_line, offset_);
    if (place->latitude_deg == 0.0 && place->longitude_deg == 0.0)
      return repairs_.add(Repair::no_position_yet, offset_);
    if (last_time_of_day_s_ - *time_of_day > k_half_day_s) day_s_ = day_s_.value_or(0.0) + k_day_s;
    last_time_of_day_s_ = *time_of_day;

    Fix fix;
    fix.time_unix_s = day_s_.value_or(0.0) + *time_of_day;
    fix.place = *place;
    const auto pressure_m = altitude_m(line.substr(25, 5)), satellite_m = altitude_m(line.substr(30, 5));
    if (satellite_m && validity == 'A') {
      fix.altitude_ft = to_feet(Metres{*satellite_m}).value;
      satellite_altitudes_ += *satellite_m != 0.0;
    }
    fixes_.push_back({fix, offset_});
    add_panel(line, fix.time_unix_s, pressure_m);
  }

  std::optional<double> time_of_day_s(std::string_view line) const {
    const auto hour = digits(line.substr(1, 2)), minute = digits(line.substr(3, 2)),
               second = digits(line.substr(5, 2));
    if (!hour || !minute || !second || *hour > 23 || *minute > 59 || *second > 59) return std::nullopt;
    return *hour * 3600.0 + *minute * 60.0 + *second + fraction(line, extensions_.second_decimals);
  }

  std::optional<Geodetic> place_of(std::string_view line) const {
    const char north = line[14], east = line[23];
    const auto latitude = angle_deg(line.substr(7, 7), 2, fraction(line, extensions_.latitude_decimals));
    const auto longitude = angle_deg(line.substr(15, 8), 3, fraction(line, extensions_.longitude_decimals));
    if (!latitude || !longitude || *latitude > 90.0 || *longitude > 180.0) return std::nullopt;
    if ((north != 'N' && north != 'S') || (east != 'E' && east != 'W')) return std::nullopt;
    const double signed_longitude = east == 'E' ? *longitude : -*longitude;
    return Geodetic{north == 'N' ? *latitude : -*latitude,
                    signed_longitude == 180.0 ? -180.0 : signed_longitude};
  }

  void add_panel(std::string_view line, double time_unix_s, std::optional<double> pressure_m) {
    Beside beside{time_unix_s, std::nullopt, std::nullopt};
    if (pressure_m) {
      beside.pressure_altitude_ft = to_feet(Metres{*pressure_m}).value;
      pressure_altitudes_ += *pressure_m != 0.0;
    }
    if (extensions_.airspeed_kmh) {
      const auto speed = digits(line, *extensions_.airspeed_kmh);
      if (speed && *speed > 0) beside.airspeed_kt = *speed / k_kilometres_per_nautical_mile;
    }
    beside_.push_back({beside, offset_});
  }

  /// Recorders without a barometer, or without height from satellites, write zeros.
  void drop_altitudes_that_are_none() {
    if (pressure_altitudes_ == 0)
      for (auto& placed : beside_) placed.row.pressure_altitude_ft.reset();
    if (satellite_altitudes_ > 0) {
      notes_.emplace_back("altitude is above the ellipsoid; the roll on the runway sets its zero");
      return;
    }
    for (std::size_t i = 0; i < fixes_.size(); ++i)
      fixes_[i].row.altitude_ft = beside_[i].row.pressure_altitude_ft;
    if (pressure_altitudes_ > 0)
      notes_.emplace_back("no satellite altitude; the pressure altitude stands in its place");
  }

  std::vector<PanelSample> panel() const {
    std::vector<PanelSample> samples;
    if (pressure_altitudes_ > 0 || extensions_.airspeed_kmh) samples.reserve(beside_.size());
    for (const auto& [beside, offset] : beside_) {
      if (!beside.pressure_altitude_ft && !beside.airspeed_kt) continue;
      PanelSample& sample = samples.emplace_back();
      sample.time_unix_s = beside.time_unix_s;
      sample.pressure_altitude_ft = beside.pressure_altitude_ft;
      sample.indicated_airspeed_kt = beside.airspeed_kt;
    }
    return samples;
  }

  Result<TrackLog> finish() {
    if (records_ == 0) return Error{fmt::format("{}: IGC without fixes; expected B records", name_)};
    if (!day_s_) notes_.emplace_back("no date in the log (HFDTE); times are of 1970-01-01");
    drop_altitudes_that_are_none();
    auto ordered = order_fixes(std::move(fixes_), repairs_, name_);
    if (!ordered) return ordered.error();
    Repairs same_lines_again;
    keep_increasing(beside_, same_lines_again);
    TrackLog log;
    log.format = "igc";
    log.fixes = std::move(ordered->fixes);
    log.freezes = std::move(ordered->freezes);
    log.panel = panel();
    log.panel_shares_clock = true;
    log.notes = repairs_.sentences(bytes_);
    log.notes.insert(log.notes.end(), notes_.begin(), notes_.end());
    return log;
  }

  std::string_view bytes_;
  std::string_view name_;
  std::size_t offset_ = 0;
  std::optional<double> day_s_;  ///< midnight before the present fix
  double last_time_of_day_s_ = -1.0;
  Extensions extensions_;
  std::size_t records_ = 0, satellite_altitudes_ = 0, pressure_altitudes_ = 0;
  std::vector<Placed<Fix>> fixes_;
  std::vector<Placed<Beside>> beside_;  ///< one for each fix
  Repairs repairs_;
  std::vector<std::string> notes_;
};

bool is_fix_record(std::string_view line) {
  return line.size() >= 35 && line.front() == 'B' && digits(line.substr(1, 6)).has_value();
}

}  // namespace

Result<TrackLog> read_igc(std::string_view bytes, std::string_view name) {
  return IgcReader(bytes, name).read();
}

bool looks_like_igc(std::string_view bytes) {
  TextLines lines(bytes.substr(0, 8192));
  bool recorder_named = false;
  for (bool first = true; const auto line = lines.next(); first = false) {
    const auto& text = line->text;
    if (text.size() >= 11 && text.front() == 'H' && text.substr(2, 3) == "DTE") return true;
    if (first && text.size() >= 4 && text.front() == 'A') recorder_named = true;
    if (is_fix_record(text) && (recorder_named || first)) return true;
  }
  return false;
}

}  // namespace glidewright

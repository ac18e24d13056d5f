#include "formats/metar.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "formats/number.hpp"
#include "formats/shown.hpp"
#include "formats/time.hpp"

namespace glidewright {
namespace {

constexpr double k_knots_per_metre_per_second = 3600.0 / k_metres_per_nautical_mile;
constexpr double k_knots_per_kilometre_per_hour = 1000.0 / k_metres_per_nautical_mile;
constexpr double k_day_s = 86400.0;

bool is_digits(std::string_view text) {
  return !text.empty() && std::all_of(text.begin(), text.end(), [](char c) { return c >= '0' && c <= '9'; });
}

/// Digits only, at most six.
std::optional<int> digits(std::string_view text) {
  if (!is_digits(text) || text.size() > 6) return std::nullopt;
  int value = 0;
  for (const char c : text) value = 10 * value + (c - '0');
  return value;
}

/// "06", "M02".
std::optional<double> temperature(std::string_view text) {
  const bool below = !text.empty() && text.front() == 'M';
  if (below) text.remove_prefix(1);
  const auto value = text.size() == 2 ? digits(text) : std::nullopt;
  if (!value) return std::nullopt;
  return below ? -*value : *value;
}

/// "0064" and "1012" of the remarks: sign and tenths.
std::optional<double> tenths(std::string_view text) {
  const auto value = digits(text.substr(1));
  if (!value || (text[0] != '0' && text[0] != '1')) return std::nullopt;
  return (text[0] == '1' ? -0.1 : 0.1) * *value;
}

class MetarReader {
 public:
  explicit MetarReader(std::string_view text) : text_(text) {}

  Result<Metar> read() {
    std::string_view rest = text_;
    while (problem_.empty()) {
      rest = trim_blanks(rest);
      if (rest.empty()) break;
      const auto end = std::min(rest.find_first_of(" \t\r\n"), rest.size());
      take(rest.substr(0, end));
      rest.remove_prefix(end);
    }
    if (problem_.empty() && report_.station.empty())
      problem_ = "has no station; expected such as KABC 121755Z";
    if (problem_.empty() && !timed_)
      problem_ = "has no time; expected day and time such as 121755Z after the station";
    if (!problem_.empty())
      return Error{fmt::format("weather report '{}' {}", shown(trim_blanks(text_)), problem_)};
    return report_;
  }

 private:
  enum class Part { heading, body, trend, remarks };

  void take(std::string_view token) {
    if (token == "METAR" || token == "SPECI" || token == "AUTO" || token == "COR") return;
    if (report_.station.empty()) return take_station(token);
    if (!timed_) return take_time(token);
    if (token == "RMK") part_ = Part::remarks;
    if (token == "TEMPO" || token == "BECMG" || token == "NOSIG") part_ = Part::trend;
    if (part_ == Part::remarks) return take_remark(token);
    if (part_ == Part::trend) return;
    if (take_wind(token) || take_variation(token) || take_cloud(token) || take_pressure(token)) return;
    take_temperatures(token);
  }

  void take_station(std::string_view token) {
    const bool named = token.size() == 4 && std::all_of(token.begin(), token.end(), [](char c) {
                         return (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9');
                       });
    if (!named || is_digits(token)) {
      problem_ = fmt::format("begins with '{}'; expected a station of four letters", shown(token));
      return;
    }
    report_.station = token;
  }

  void take_time(std::string_view token) {
    const bool shaped = token.size() == 7 && token.back() == 'Z' && is_digits(token.substr(0, 6));
    if (shaped) {
      report_.day = *digits(token.substr(0, 2));
      report_.hour = *digits(token.substr(2, 2));
      report_.minute = *digits(token.substr(4, 2));
    }
    if (!shaped || report_.day < 1 || report_.day > 31 || report_.hour > 23 || report_.minute > 59) {
      problem_ =
          fmt::format("has the time '{}'; expected day, hour and minute such as 121755Z", shown(token));
      return;
    }
    timed_ = true;
  }

  /// "21016G24KT", "VRB03KT", "24004MPS"
  bool take_wind(std::string_view token) {
    double to_knots = 0.0;
    std::size_t unit = 0;
    for (const auto& [name, knots] : {std::pair{std::string_view("KT"), 1.0},
                                      std::pair{std::string_view("MPS"), k_knots_per_metre_per_second},
                                      std::pair{std::string_view("KMH"), k_knots_per_kilometre_per_hour}}) {
      if (token.size() < 5 + name.size() || !token.ends_with(name)) continue;
      to_knots = knots;
      unit = name.size();
    }
    if (to_knots == 0.0 || report_.wind || report_.variable_kt) return false;
    const auto body = token.substr(0, token.size() - unit);
    if (body.starts_with("///") || body.ends_with("//")) return true;
    const auto gust_sign = body.find('G');
    const auto speed =
        digits(body.substr(3, gust_sign == std::string_view::npos ? gust_sign : gust_sign - 3));
    const auto gust = gust_sign == std::string_view::npos ? speed : digits(body.substr(gust_sign + 1));
    const auto direction = digits(body.substr(0, 3));
    const bool variable = body.starts_with("VRB");
    if (!speed || !gust || (!variable && (!direction || *direction > 360)) || *speed > 199 || *gust > 199) {
      problem_ =
          fmt::format("has the wind '{}'; expected such as 21016G24KT, VRB03KT or 00000KT", shown(token));
      return true;
    }
    if (variable) {
      report_.variable_kt = *speed * to_knots;
      return true;
    }
    WindProfile wind;
    wind.at_10m = {Degrees{wrap_360_deg(*direction)}, Knots{*speed * to_knots}};
    wind.gust = Knots{std::max(0.0, (*gust - *speed) * to_knots)};
    report_.wind = wind;
    return true;
  }

  /// "180V240"
  bool take_variation(std::string_view token) {
    if (token.size() != 7 || token[3] != 'V') return false;
    const auto from = digits(token.substr(0, 3)), to = digits(token.substr(4));
    if (!from || !to || *from > 360 || *to > 360) return false;
    report_.varies_from_true_deg = *from;
    report_.varies_to_true_deg = *to;
    return true;
  }

  /// "BKN015", "OVC020CB", "VV002"
  bool take_cloud(std::string_view token) {
    std::string_view height;
    if (token.starts_with("BKN") || token.starts_with("OVC")) height = token.substr(3, 3);
    if (token.starts_with("VV")) height = token.substr(2, 3);
    const auto hundreds = height.size() == 3 ? digits(height) : std::nullopt;
    if (!hundreds) return false;
    const double feet = 100.0 * *hundreds;
    report_.ceiling_ft = std::min(report_.ceiling_ft.value_or(feet), feet);
    return true;
  }

  /// "Q1018", "A2990"
  bool take_pressure(std::string_view token) {
    if (token.size() != 5 || (token[0] != 'Q' && token[0] != 'A')) return false;
    const auto value = digits(token.substr(1));
    if (!value) return token.substr(1) == "////";
    const double hpa = token[0] == 'Q' ? static_cast<double>(*value)
                                       : to_hectopascals(InchesOfMercury{*value / 100.0}).value;
    if (hpa < 850.0 || hpa > 1090.0) {
      problem_ =
          fmt::format("has the pressure '{}'; expected Q0850 to Q1090, or A2510 to A3219", shown(token));
      return true;
    }
    if (!report_.altimeter_hpa) report_.altimeter_hpa = hpa;
    return true;
  }

  /// "06/04", "M02/M16", "06/"
  void take_temperatures(std::string_view token) {
    const auto slash = token.find('/');
    if (slash == std::string_view::npos || report_.temperature_c) return;
    const auto air = temperature(token.substr(0, slash));
    if (!air) return;
    report_.temperature_c = air;
    report_.dewpoint_c = temperature(token.substr(slash + 1));
  }

  /// "T00640036": the temperatures to a tenth.
  void take_remark(std::string_view token) {
    if (token.size() != 9 || token[0] != 'T' || !is_digits(token.substr(1))) return;
    if (const auto air = tenths(token.substr(1, 4))) report_.temperature_c = air;
    if (const auto dew = tenths(token.substr(5, 4))) report_.dewpoint_c = dew;
  }

  std::string_view text_;
  Metar report_;
  bool timed_ = false;
  Part part_ = Part::body;
  std::string problem_;
};

/// When the report was made, in the month that brings it nearest.
double made_at(const Metar& report, double near_unix_s) {
  const std::string date = iso8601_utc(near_unix_s, 0).substr(0, 10);
  const double month_s = static_cast<double>(*read_date(date.substr(0, 8) + "01")) * k_day_s;
  const double within_s = (report.day - 1) * k_day_s + report.hour * 3600.0 + report.minute * 60.0;
  double best = month_s + within_s;
  // Months before and after, by their real lengths: one day before this one, and 32 days after its first.
  for (const double in_month : {month_s - k_day_s, month_s + 32.0 * k_day_s}) {
    const std::string other = iso8601_utc(in_month, 0).substr(0, 8) + "01";
    const double made = static_cast<double>(*read_date(other)) * k_day_s + within_s;
    if (std::abs(made - near_unix_s) < std::abs(best - near_unix_s)) best = made;
  }
  return best;
}

}  // namespace

Result<Metar> read_metar(std::string_view text) {
  return MetarReader(text).read();
}

Result<std::vector<Metar>> read_metars(std::string_view text) {
  std::vector<Metar> reports;
  while (!text.empty()) {
    const auto end = std::min(text.find_first_of("=\n"), text.size());
    const auto one = trim_blanks(text.substr(0, end));
    text.remove_prefix(std::min(end + 1, text.size()));
    if (one.empty()) continue;
    auto report = read_metar(one);
    if (!report) return report.error();
    reports.push_back(std::move(*report));
  }
  if (reports.empty())
    return Error{"weather report is empty; expected such as KABC 121755Z 21016KT 06/04 A2990"};
  return reports;
}

double age_s(const Metar& report, double time_unix_s) {
  return time_unix_s - made_at(report, time_unix_s);
}

const Metar& nearest_report(const std::vector<Metar>& reports, double time_unix_s) {
  return *std::min_element(reports.begin(), reports.end(), [&](const Metar& a, const Metar& b) {
    return std::abs(age_s(a, time_unix_s)) < std::abs(age_s(b, time_unix_s));
  });
}

}  // namespace glidewright

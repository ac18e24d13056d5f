#include "formats/civil_text.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

#include "formats/number.hpp"

namespace glidewright {
namespace {

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

struct Whole {
  int value = 0;
  int digits = 0;
};

/// One to `most` digits off the front.
std::optional<Whole> take_whole(std::string_view& text, int most) {
  Whole whole;
  for (; !text.empty() && is_digit(text.front()); text.remove_prefix(1)) {
    if (++whole.digits > most) return std::nullopt;
    whole.value = 10 * whole.value + (text.front() - '0');
  }
  if (whole.digits == 0) return std::nullopt;
  return whole;
}

bool take_any(std::string_view& text, std::string_view signs) {
  if (text.empty() || signs.find(text.front()) == std::string_view::npos) return false;
  text.remove_prefix(1);
  return true;
}

int days_of_month(int year, int month) {
  constexpr std::array<int, 12> k_days{31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
  const bool leap = (year % 4 == 0 && year % 100 != 0) || year % 400 == 0;
  return k_days[static_cast<std::size_t>(month - 1)] + (month == 2 && leap ? 1 : 0);
}

std::optional<std::int64_t> days_of(const Whole& written_year, int month, int day) {
  if (written_year.digits != 4 && written_year.digits != 2) return std::nullopt;
  const int year = written_year.digits == 2 ? 2000 + written_year.value : written_year.value;
  if (year < 1 || month < 1 || month > 12 || day < 1 || day > days_of_month(year, month)) return std::nullopt;
  return days_from_civil(year, month, day);
}

char upper(char c) {
  return c >= 'a' && c <= 'z' ? static_cast<char>(c - 'a' + 'A') : c;
}

/// "AM" or "PM" cut off the end; 0 where neither stands there.
char take_half_of_day(std::string_view& text) {
  if (text.size() < 3 || upper(text.back()) != 'M') return 0;
  const char half = upper(text[text.size() - 2]);
  if (half != 'A' && half != 'P') return 0;
  text = trim_blanks(text.substr(0, text.size() - 2));
  return half;
}

/// -1 for S or W, +1 for N or E, cut off either end; 0 where no letter stands there.
int take_hemisphere(std::string_view& text) {
  const auto sign = [](char c) {
    c = upper(c);
    return c == 'N' || c == 'E' ? 1 : c == 'S' || c == 'W' ? -1 : 0;
  };
  if (text.empty()) return 0;
  if (const int found = sign(text.front()); found != 0) {
    text = trim_blanks(text.substr(1));
    return found;
  }
  if (const int found = sign(text.back()); found != 0) {
    text = trim_blanks(text.substr(0, text.size() - 1));
    return found;
  }
  return 0;
}

/// Up to three numbers with anything but letters, digits and points between them.
std::optional<std::vector<double>> numbers_in(std::string_view text) {
  std::vector<double> numbers;
  const auto in_number = [](char c) { return is_digit(c) || c == '.'; };
  std::size_t at = 0;
  while (at < text.size()) {
    if (!in_number(text[at])) {
      const bool letter = upper(text[at]) >= 'A' && upper(text[at]) <= 'Z';
      if (letter || text[at] == '+' || text[at] == '-' || numbers.empty()) return std::nullopt;
      ++at;
      continue;
    }
    std::size_t end = at;
    while (end < text.size() && in_number(text[end])) ++end;
    const auto number = read_number(text.substr(at, end - at));
    if (!number || numbers.size() == 3) return std::nullopt;
    // Only the last may have a fraction: "48.5 30" is no angle.
    if (!numbers.empty() && numbers.back() != std::floor(numbers.back())) return std::nullopt;
    numbers.push_back(*number);
    at = end;
  }
  return numbers;
}

}  // namespace

std::optional<std::int64_t> read_date_in(std::string_view text, DateOrder order) {
  text = trim_blanks(text);
  constexpr std::string_view k_between = "-/.";
  const auto first = take_whole(text, 4);
  if (!first || !take_any(text, k_between)) return std::nullopt;
  const auto second = take_whole(text, 2);
  if (!second || !take_any(text, k_between)) return std::nullopt;
  const auto third = take_whole(text, 4);
  if (!third || !text.empty()) return std::nullopt;
  switch (order) {
    case DateOrder::year_month_day:
      return first->digits != 4 || third->digits > 2 ? std::nullopt
                                                     : days_of(*first, second->value, third->value);
    case DateOrder::day_month_year:
      return first->digits > 2 ? std::nullopt : days_of(*third, second->value, first->value);
    case DateOrder::month_day_year:
      return first->digits > 2 ? std::nullopt : days_of(*third, first->value, second->value);
  }
  return std::nullopt;
}

std::optional<double> read_clock_time(std::string_view text) {
  text = trim_blanks(text);
  const char half = take_half_of_day(text);
  const auto hour = take_whole(text, 2);
  if (!hour || !take_any(text, ":")) return std::nullopt;
  const auto minute = take_whole(text, 2);
  if (!minute || minute->digits != 2 || minute->value > 59) return std::nullopt;
  double second = 0.0;
  if (take_any(text, ":")) {
    if (text.size() < 2 || !is_digit(text[0]) || !is_digit(text[1])) return std::nullopt;
    if (text.find_first_not_of("0123456789.,") != std::string_view::npos) return std::nullopt;
    const auto written =
        text.find(',') == std::string_view::npos ? read_number(text) : read_decimal_comma_number(text);
    if (!written || *written >= 61.0) return std::nullopt;
    second = *written;
  } else if (!text.empty()) {
    return std::nullopt;
  }
  int hours = hour->value;
  if (half != 0) {
    if (hours < 1 || hours > 12) return std::nullopt;
    hours = hours % 12 + (half == 'P' ? 12 : 0);
  }
  if (hours > 23) return std::nullopt;
  return hours * 3600 + minute->value * 60 + second;
}

std::optional<WrittenTime> read_time_in(std::string_view text, DateOrder order) {
  if (const auto standard = read_time(text)) return standard;
  text = trim_blanks(text);
  const auto gap = text.find_first_of("Tt ");
  if (gap == std::string_view::npos) return std::nullopt;
  const auto days = read_date_in(text.substr(0, gap), order);
  if (!days) return std::nullopt;
  text = trim_blanks(text.substr(gap + 1));
  WrittenTime time;
  int offset_s = 0;
  if (const auto zone = text.find_first_of("+-Zz"); zone != std::string_view::npos) {
    const auto offset = read_utc_offset(text.substr(zone));
    if (!offset) return std::nullopt;
    offset_s = *offset;
    time.zone_given = true;
    text = text.substr(0, zone);
  }
  const auto seconds = read_clock_time(text);
  if (!seconds) return std::nullopt;
  time.unix_s = static_cast<double>(*days) * 86400.0 + *seconds - offset_s;
  return time;
}

std::optional<int> read_utc_offset(std::string_view text) {
  text = trim_blanks(text);
  if (text == "Z" || text == "z" || text == "UTC" || text == "utc") return 0;
  if (text.empty() || (text.front() != '+' && text.front() != '-')) return std::nullopt;
  const int sign = text.front() == '-' ? -1 : 1;
  text.remove_prefix(1);
  const auto hours = take_whole(text, 4);
  if (!hours) return std::nullopt;
  int h = hours->value, m = 0;
  if (hours->digits > 2) {
    h = hours->value / 100;
    m = hours->value % 100;
  } else if (take_any(text, ":")) {
    const auto minutes = take_whole(text, 2);
    if (!minutes || minutes->digits != 2) return std::nullopt;
    m = minutes->value;
  }
  if (!text.empty() || m > 59 || h * 60 + m > 14 * 60) return std::nullopt;
  return sign * (h * 3600 + m * 60);
}

std::optional<double> read_angle(std::string_view text, AngleForm form) {
  text = trim_blanks(text);
  const int hemisphere = take_hemisphere(text);
  int sign = hemisphere == 0 ? 1 : hemisphere;
  if (!text.empty() && (text.front() == '-' || text.front() == '+')) {
    if (hemisphere != 0) return std::nullopt;
    sign = text.front() == '-' ? -1 : 1;
    text.remove_prefix(1);
  }
  const auto numbers = numbers_in(text);
  if (!numbers || numbers->empty()) return std::nullopt;
  auto parts = *numbers;
  if (form == AngleForm::degrees_minutes && parts.size() == 1) {
    const double degrees = std::floor(parts[0] / 100.0);
    parts = {degrees, parts[0] - 100.0 * degrees};
  }
  parts.resize(3, 0.0);
  if (parts[1] >= 60.0 || parts[2] >= 60.0) return std::nullopt;
  return sign * (parts[0] + parts[1] / 60.0 + parts[2] / 3600.0);
}

}  // namespace glidewright

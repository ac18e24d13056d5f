#include "formats/time.hpp"

#include <fmt/format.h>

#include <cassert>
#include <cmath>

#include "formats/number.hpp"

namespace glidewright {
namespace {

constexpr double k_seconds_per_day = 86400.0;

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

/// Takes exactly `count` digits off the front.
std::optional<int> take_digits(std::string_view& text, std::size_t count) {
  if (text.size() < count) return std::nullopt;
  int value = 0;
  for (std::size_t i = 0; i < count; ++i) {
    if (!is_digit(text[i])) return std::nullopt;
    value = value * 10 + (text[i] - '0');
  }
  text.remove_prefix(count);
  return value;
}

bool take(std::string_view& text, char c) {
  if (text.empty() || text.front() != c) return false;
  text.remove_prefix(1);
  return true;
}

int days_in_month(int year, int month) {
  constexpr int k_days[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
  const bool leap = year % 4 == 0 && (year % 100 != 0 || year % 400 == 0);
  return k_days[month - 1] + (month == 2 && leap ? 1 : 0);
}

std::optional<std::int64_t> take_date(std::string_view& text) {
  const auto year = take_digits(text, 4);
  if (!year || *year < 1 || !take(text, '-')) return std::nullopt;
  const auto month = take_digits(text, 2);
  if (!month || *month < 1 || *month > 12 || !take(text, '-')) return std::nullopt;
  const auto day = take_digits(text, 2);
  if (!day || *day < 1 || *day > days_in_month(*year, *month)) return std::nullopt;
  return days_from_civil(*year, *month, *day);
}

/// The digits after the decimal sign; at least one must stand there.
std::optional<double> take_fraction(std::string_view& text) {
  if (!take(text, '.') && !take(text, ',')) return 0.0;
  // Beyond 18 digits a double of seconds sees nothing, and the integer would overflow.
  constexpr int k_useful_digits = 18;
  std::int64_t numerator = 0;
  double denominator = 1.0;
  int digits = 0;
  for (; !text.empty() && is_digit(text.front()); text.remove_prefix(1), ++digits) {
    if (digits >= k_useful_digits) continue;
    numerator = numerator * 10 + (text.front() - '0');
    denominator *= 10.0;
  }
  if (digits == 0) return std::nullopt;
  return static_cast<double>(numerator) / denominator;
}

std::optional<double> take_time_of_day(std::string_view& text) {
  const auto hour = take_digits(text, 2);
  if (!hour || *hour > 23 || !take(text, ':')) return std::nullopt;
  const auto minute = take_digits(text, 2);
  if (!minute || *minute > 59 || !take(text, ':')) return std::nullopt;
  const auto second = take_digits(text, 2);
  if (!second || *second > 60) return std::nullopt;
  const auto fraction = take_fraction(text);
  if (!fraction) return std::nullopt;
  return *hour * 3600 + *minute * 60 + *second + *fraction;
}

/// Seconds to take off local time to get UTC.
std::optional<int> take_offset(std::string_view& text) {
  const bool east = text.front() == '+';
  text.remove_prefix(1);
  const auto hours = take_digits(text, 2);
  if (!hours || *hours > 23) return std::nullopt;
  int minutes = 0;
  if (!text.empty()) {
    take(text, ':');
    const auto written = take_digits(text, 2);
    if (!written || *written > 59) return std::nullopt;
    minutes = *written;
  }
  const int seconds = *hours * 3600 + minutes * 60;
  return east ? seconds : -seconds;
}

}  // namespace

// Counts years from March, so that the leap day is the last of its year; 400 years are 146,097 days.
std::int64_t days_from_civil(std::int64_t year, int month, int day) {
  const std::int64_t shifted_year = month <= 2 ? year - 1 : year;
  const std::int64_t era = (shifted_year >= 0 ? shifted_year : shifted_year - 399) / 400;
  const std::int64_t year_of_era = shifted_year - era * 400;
  const std::int64_t month_from_march = (month + 9) % 12;
  const std::int64_t day_of_year = (153 * month_from_march + 2) / 5 + day - 1;
  const std::int64_t day_of_era = year_of_era * 365 + year_of_era / 4 - year_of_era / 100 + day_of_year;
  constexpr std::int64_t k_days_to_1970_from_march_0000 = 719468;
  return era * 146097 + day_of_era - k_days_to_1970_from_march_0000;
}

std::optional<WrittenTime> read_time(std::string_view text) {
  text = trim_blanks(text);
  const auto days = take_date(text);
  if (!days || !(take(text, 'T') || take(text, 't') || take(text, ' '))) return std::nullopt;
  const auto seconds = take_time_of_day(text);
  if (!seconds) return std::nullopt;
  const double as_written = static_cast<double>(*days) * k_seconds_per_day + *seconds;
  if (text.empty()) return WrittenTime{as_written, false};
  if (text == "Z" || text == "z") return WrittenTime{as_written, true};
  if (text.front() != '+' && text.front() != '-') return std::nullopt;
  const auto offset = take_offset(text);
  if (!offset || !text.empty()) return std::nullopt;
  return WrittenTime{as_written - *offset, true};
}

std::optional<double> unix_seconds(std::string_view text) {
  const auto time = read_time(text);
  if (!time) return std::nullopt;
  return time->unix_s;
}

std::optional<double> read_time_of_day(std::string_view text) {
  text = trim_blanks(text);
  const auto seconds = take_time_of_day(text);
  if (text == "Z" || text == "z") text = {};
  return text.empty() ? seconds : std::nullopt;
}

std::optional<std::int64_t> read_date(std::string_view text) {
  text = trim_blanks(text);
  const auto days = take_date(text);
  return text.empty() ? days : std::nullopt;
}

double decimal_year(double unix_s) {
  const auto begins_unix_s = [](std::int64_t year) {
    return 86400.0 * static_cast<double>(days_from_civil(year, 1, 1));
  };
  constexpr double mean_year_s = 365.2425 * 86400.0;
  auto year = 1970 + static_cast<std::int64_t>(std::floor(unix_s / mean_year_s));
  while (begins_unix_s(year) > unix_s) --year;
  while (begins_unix_s(year + 1) <= unix_s) ++year;
  return static_cast<double>(year) +
         (unix_s - begins_unix_s(year)) / (begins_unix_s(year + 1) - begins_unix_s(year));
}

std::string iso8601_utc(double unix_s, int decimals) {
  assert(decimals >= 0 && decimals <= 6 && std::isfinite(unix_s));
  std::int64_t per_second = 1;
  for (int i = 0; i < decimals; ++i) per_second *= 10;
  // Whole seconds apart from the fraction: their product with 10^6 would lose digits in a double.
  const double whole = std::floor(unix_s);
  std::int64_t seconds = static_cast<std::int64_t>(whole);
  std::int64_t fraction = std::llround((unix_s - whole) * static_cast<double>(per_second));
  if (fraction == per_second) {
    fraction = 0;
    ++seconds;
  }
  std::int64_t days = seconds / 86400;
  std::int64_t second_of_day = seconds % 86400;
  if (second_of_day < 0) {
    second_of_day += 86400;
    --days;
  }
  // The inverse of days_from_civil, in the same years that begin in March.
  const std::int64_t shifted = days + 719468;
  const std::int64_t era = (shifted >= 0 ? shifted : shifted - 146096) / 146097;
  const std::int64_t day_of_era = shifted - era * 146097;
  const std::int64_t year_of_era =
      (day_of_era - day_of_era / 1460 + day_of_era / 36524 - day_of_era / 146096) / 365;
  const std::int64_t day_of_year = day_of_era - (365 * year_of_era + year_of_era / 4 - year_of_era / 100);
  const std::int64_t month_from_march = (5 * day_of_year + 2) / 153;
  const std::int64_t day = day_of_year - (153 * month_from_march + 2) / 5 + 1;
  const std::int64_t month = month_from_march < 10 ? month_from_march + 3 : month_from_march - 9;
  const std::int64_t year = year_of_era + era * 400 + (month <= 2 ? 1 : 0);
  std::string text = fmt::format("{:04}-{:02}-{:02}T{:02}:{:02}:{:02}", year, month, day,
                                 second_of_day / 3600, second_of_day / 60 % 60, second_of_day % 60);
  if (decimals > 0) text += fmt::format(".{:0{}}", fraction, decimals);
  return text + "Z";
}

}  // namespace glidewright

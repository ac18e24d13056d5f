#pragma once
// ISO 8601 / RFC 3339 text to seconds since 1970 and back. Civil-calendar arithmetic; no locale, no zone
// data.

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace glidewright {

/// A moment as it was written.
struct WrittenTime {
  double unix_s = 0.0;      ///< UTC, seconds since 1970-01-01T00:00:00Z, leap seconds not counted
  bool zone_given = false;  ///< "Z" or an offset stood there; without one the time is taken as UTC
};

/// Reads "2026-05-14T20:02:55.2Z": date, "T" or blank, time with optional fraction ("." or ","), then "Z",
/// "+hh:mm", "+hhmm", "+hh" or nothing. Blanks round it are skipped. Years 1 to 9999, real dates only; second
/// 60 (a leap second) reads as the second after it. None for anything else. Accuracy: 0.25 microseconds (a
/// double near 2026). Source: RFC 3339 sec. 5.6.
std::optional<WrittenTime> read_time(std::string_view text);

/// The moment alone.
std::optional<double> unix_seconds(std::string_view text);

/// Seconds after midnight from "20:02:55.2"; none for anything else.
std::optional<double> read_time_of_day(std::string_view text);

/// Days since 1970-01-01 from "2026-05-14"; none for anything else.
std::optional<std::int64_t> read_date(std::string_view text);

/// Days since 1970-01-01 of a date in the Gregorian calendar, continued backwards before 1582.
std::int64_t days_from_civil(std::int64_t year, int month, int day);

/// A moment as a year with its part: 2026.5 at the middle of 2026.
double decimal_year(double unix_s);

/// "2026-05-14T20:02:55.20Z", rounded to the nearest; decimals 0 to 6; years 1 to 9999.
std::string iso8601_utc(double unix_s, int decimals);

}  // namespace glidewright

#pragma once
// Dates, times and angles as loggers and spreadsheets write them, beside the standard forms of time.hpp.

#include <cstdint>
#include <optional>
#include <string_view>

#include "formats/time.hpp"

namespace glidewright {

/// Which of three numbers is which; the last two look alike until a day is above 12.
enum class DateOrder { year_month_day, day_month_year, month_day_year };

/// Days since 1970-01-01 from "2026-05-14", "14.05.2026", "5/14/26" and the like: one or two digits for day
/// and month, a year of four, or of two at the end (2000 to 2099); "-", "/" or "." between them. None for
/// anything else.
std::optional<std::int64_t> read_date_in(std::string_view text, DateOrder order);

/// Seconds after midnight from "20:02:55.2", "8:02:55 PM", "20:02"; none for anything else.
std::optional<double> read_clock_time(std::string_view text);

/// Date and time of day with a blank or "T" between them, and a zone as read_time takes it.
std::optional<WrittenTime> read_time_in(std::string_view text, DateOrder order);

/// Seconds that local time is ahead of UTC, from "+02:00", "-0700", "+5:30", "Z" or "UTC"; none for anything
/// else and beyond 14 hours.
std::optional<int> read_utc_offset(std::string_view text);

enum class AngleForm {
  degrees,         ///< "48.5", "48.5 N"; with two or three numbers degrees, minutes and seconds
  degrees_minutes  ///< "4830.5": the last two digits before the point are minutes
};

/// Degrees, south and west negative by a letter before or behind or by a sign, not both. Minutes and seconds
/// below 60. None for anything else.
std::optional<double> read_angle(std::string_view text, AngleForm form);

}  // namespace glidewright

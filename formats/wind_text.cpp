#include "formats/wind_text.hpp"

#include <fmt/format.h>

#include <optional>

#include "formats/number.hpp"
#include "formats/shown.hpp"

namespace glidewright {
namespace {

/// Digits only: "12", not "+12", "1e1" or "12kt".
std::optional<int> whole_number(std::string_view digits) {
  constexpr std::size_t k_longest = 4;
  if (digits.empty() || digits.size() > k_longest) return std::nullopt;
  int value = 0;
  for (const char c : digits) {
    if (c < '0' || c > '9') return std::nullopt;
    value = value * 10 + (c - '0');
  }
  return value;
}

bool is_calm(std::string_view text) {
  return text == "calm" || text == "Calm" || text == "CALM" || text == "00000" || text == "00000KT";
}

Error not_a_wind(std::string_view text) {
  return Error{
      fmt::format("wind '{}'; expected from/speed in degrees true and knots, such as 240/12 or 240/12G18, "
                  "or calm",
                  shown(text))};
}

}  // namespace

Result<WindProfile> read_wind_text(std::string_view text) {
  text = trim_blanks(text);
  WindProfile wind;
  if (is_calm(text)) return wind;
  const auto slash = text.find('/');
  if (slash == std::string_view::npos) return not_a_wind(text);
  const auto speeds = text.substr(slash + 1);
  const auto gust_sign = speeds.find_first_of("Gg");
  const auto direction = whole_number(text.substr(0, slash));
  const auto speed = whole_number(speeds.substr(0, gust_sign));
  if (!direction || !speed) return not_a_wind(text);
  if (*direction > 360) {
    return Error{fmt::format("wind direction {} deg; expected 0 to 360 (where the wind blows from, true)",
                             *direction)};
  }
  if (*speed > 99) return Error{fmt::format("wind speed {} kt; expected 0 to 99", *speed)};
  wind.at_10m = {Degrees{wrap_360_deg(*direction)}, Knots{static_cast<double>(*speed)}};
  if (gust_sign == std::string_view::npos) return wind;
  const auto gust = whole_number(speeds.substr(gust_sign + 1));
  if (!gust) return not_a_wind(text);
  if (*gust <= *speed || *gust > 99) {
    return Error{
        fmt::format("wind gusts to {} kt; expected more than the mean of {} and at most 99", *gust, *speed)};
  }
  wind.gust = {static_cast<double>(*gust - *speed)};
  return wind;
}

}  // namespace glidewright

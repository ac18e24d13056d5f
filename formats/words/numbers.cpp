#include "formats/words/numbers.hpp"

#include <fmt/format.h>

#include <cmath>

#include "formats/time.hpp"

namespace glidewright {
namespace {

constexpr const char* k_minus = "−";

double to_ten(double value_ft) {
  return std::round(value_ft / 10.0) * 10.0;
}

}  // namespace

std::string whole(double value) {
  const auto number = std::llround(std::abs(value));
  std::string digits = std::to_string(number);
  for (auto at = static_cast<std::ptrdiff_t>(digits.size()) - 3; at > 0; at -= 3) {
    digits.insert(static_cast<std::size_t>(at), ",");
  }
  return value < 0.0 && number != 0 ? k_minus + digits : digits;
}

std::string feet(double value_ft) {
  return whole(to_ten(value_ft));
}

std::string signed_feet(double value_ft) {
  const double value = to_ten(value_ft);
  return value > 0.0 ? "+" + whole(value) : whole(value);
}

double remainder_as_printed_ft(const std::vector<double>& parts_ft, double total_ft) {
  double remainder_ft = to_ten(total_ft);
  for (const double part_ft : parts_ft) remainder_ft -= to_ten(part_ft);
  return remainder_ft;
}

std::string decimal(double value, int decimals) {
  const std::string digits = fmt::format("{:.{}f}", std::abs(value), decimals);
  const bool is_zero = digits.find_first_not_of("0.") == std::string::npos;
  return value < 0.0 && !is_zero ? k_minus + digits : digits;
}

std::string feet_with_interval(double value_ft, double low_ft, double high_ft) {
  constexpr double k_lopsided_ft = 30.0;
  const double below = value_ft - low_ft;
  const double above = high_ft - value_ft;
  if (std::abs(above - below) >= k_lopsided_ft) {
    return fmt::format("{} ({} to {})", signed_feet(value_ft), signed_feet(low_ft), signed_feet(high_ft));
  }
  return fmt::format("{} ± {}", signed_feet(value_ft), feet((below + above) / 2.0));
}

std::string chance_in_20(double probability) {
  const double of_20 = std::round(probability * 20.0);
  if (of_20 >= 20.0 && probability < 1.0) return "more than 19 in 20";
  if (of_20 <= 0.0 && probability > 0.0) return "less than 1 in 20";
  return fmt::format("{:.0f} in 20", of_20);
}

std::string chance_in_20(const Chance& chance) {
  const double low = std::round(chance.low95 * 20.0);
  const double high = std::round(chance.high95 * 20.0);
  if (low == high) return chance_in_20(chance.probability);
  return fmt::format("{} ({:.0f} to {:.0f})", chance_in_20(chance.probability), low, high);
}

std::string wind_words(const WindProfile& wind) {
  if (wind.at_10m.speed.value < 0.5) return "calm";
  const double from_deg = std::round(wind.at_10m.from_true.value);
  std::string words =
      fmt::format("{:03.0f}° {:.0f} kt", from_deg == 0.0 ? 360.0 : from_deg, wind.at_10m.speed.value);
  if (wind.gust.value > 0.0) words += fmt::format(", gusts to {:.0f}", (wind.at_10m.speed + wind.gust).value);
  return words;
}

std::string components_words(const Wind& wind, Degrees landing_direction_true) {
  const auto [headwind, from_right] = components(wind, landing_direction_true);
  std::string words;
  if (std::abs(headwind.value) >= 0.5) {
    words = fmt::format("{:.0f} {}", std::abs(headwind.value), headwind.value > 0.0 ? "head" : "tail");
  }
  if (std::abs(from_right.value) >= 0.5) {
    if (!words.empty()) words += ", ";
    words +=
        fmt::format("{:.0f} from {}", std::abs(from_right.value), from_right.value > 0.0 ? "right" : "left");
  }
  return words.empty() ? "none along or across" : words;
}

std::string box_words(const Box& box) {
  return fmt::format("{} to {} ft", signed_feet(box.low_ft), signed_feet(box.high_ft));
}

std::string time_of_day(double unix_s) {
  return iso8601_utc(unix_s, 0).substr(11, 8);
}

}  // namespace glidewright

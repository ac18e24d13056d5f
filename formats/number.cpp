#include "formats/number.hpp"

#include <fast_float/fast_float.h>

#include <charconv>
#include <cmath>

namespace glidewright {
namespace {

std::optional<double> read_with(std::string_view text, char decimal_sign) {
  text = trim_blanks(text);
  if (text.size() > 1 && text[0] == '+' && text[1] != '-' && text[1] != '+') text.remove_prefix(1);
  double value = 0.0;
  const fast_float::parse_options options(fast_float::chars_format::general, decimal_sign);
  const auto end = text.data() + text.size();
  const auto result = fast_float::from_chars_advanced(text.data(), end, value, options);
  if (result.ec != std::errc() || result.ptr != end || !std::isfinite(value)) return std::nullopt;
  return value;
}

}  // namespace

std::string_view trim_blanks(std::string_view text) {
  const auto is_blank = [](char c) { return c == ' ' || c == '\t' || c == '\r' || c == '\n'; };
  while (!text.empty() && is_blank(text.front())) text.remove_prefix(1);
  while (!text.empty() && is_blank(text.back())) text.remove_suffix(1);
  return text;
}

std::optional<double> read_number(std::string_view text) {
  return read_with(text, '.');
}

std::optional<double> read_decimal_comma_number(std::string_view text) {
  return read_with(text, ',');
}

std::optional<long long> read_whole_number(std::string_view text) {
  long long number = 0;
  const auto [end, failed] = std::from_chars(text.data(), text.data() + text.size(), number);
  if (failed != std::errc() || end != text.data() + text.size()) return std::nullopt;
  return number;
}

}  // namespace glidewright

#include "formats/position_text.hpp"

#include <fmt/format.h>

#include <cmath>

#include "formats/number.hpp"
#include "formats/shown.hpp"

namespace glidewright {
namespace {

bool in_range(std::optional<double> value, double limit) {
  return value && std::abs(*value) <= limit;
}

std::string out_of_range(std::string_view what, std::string_view text, int limit) {
  text = trim_blanks(text);
  if (text.empty()) return fmt::format("no {}; expected -{} to {}", what, limit, limit);
  return fmt::format("{} {}; expected -{} to {}", what, shown(text), limit, limit);
}

}  // namespace

std::optional<Geodetic> read_position(std::optional<double> latitude, std::string_view latitude_text,
                                      std::optional<double> longitude, std::string_view longitude_text,
                                      std::string& why) {
  if (!in_range(latitude, 90.0)) {
    why = out_of_range("latitude", latitude_text, 90);
    return std::nullopt;
  }
  if (!in_range(longitude, 180.0)) {
    why = out_of_range("longitude", longitude_text, 180);
    return std::nullopt;
  }
  return Geodetic{*latitude, *longitude == 180.0 ? -180.0 : *longitude};
}

}  // namespace glidewright

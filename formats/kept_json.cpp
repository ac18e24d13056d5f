#include "formats/kept_json.hpp"

#include <fmt/format.h>

#include <cmath>

#include "formats/shown.hpp"
#include "formats/time.hpp"

namespace glidewright {

std::string read_uid(JsonFields& fields, const char* name) {
  std::string uid = fields.text(name);
  if (uid.size() != 32 || uid.find_first_not_of("0123456789abcdef") != std::string::npos)
    fields.add_problem(name, std::string(name) + "; expected 32 hexadecimal digits");
  return uid;
}

double read_kept_moment(JsonFields& fields, const char* name) {
  const std::string written = fields.text(name);
  const auto moment = unix_seconds(written);
  if (!moment)
    fields.add_problem(
        name, fmt::format("{} '{}'; expected such as 2026-05-14T20:07:14.400Z", name, shown(written)));
  return std::round(1000.0 * moment.value_or(0.0)) / 1000.0;
}

}  // namespace glidewright

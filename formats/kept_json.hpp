#pragma once
// Fields that everything has that is kept: who it is in every copy, and when it was.

#include <string>

#include "formats/json_reader.hpp"

namespace glidewright {

/// 32 hexadecimal digits.
std::string read_uid(JsonFields& fields, const char* name = "uid");
/// A moment as ISO 8601, to the millisecond, seconds since 1970.
double read_kept_moment(JsonFields& fields, const char* name);

}  // namespace glidewright

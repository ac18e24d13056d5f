#pragma once

#include <string>
#include <string_view>

namespace glidewright {

/// 64 hexadecimal digits.
std::string sha256_hex(std::string_view bytes);

}  // namespace glidewright

#pragma once

#include <string>

namespace glidewright {

/// 32 hexadecimal digits that nobody else has drawn.
std::string new_uid();

}  // namespace glidewright

#pragma once

#include <string>

namespace glidewright {

/// A sentence with numbers in it, by the rules of printf.
[[gnu::format(printf, 1, 2)]] std::string words(const char* format, ...);

}  // namespace glidewright

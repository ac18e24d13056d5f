#pragma once

#include <string>

namespace glidewright {

/// A sentence with numbers in it, by the rules of printf.
[[gnu::format(printf, 1, 2)]] std::string words(const char* format, ...);

/// A difference with its sign, whole; the minus is the true one; none on zero.
std::string signed_words(double value);

}  // namespace glidewright

#pragma once

#include <string>

namespace glidewright {

/// A sentence with numbers in it, by the rules of printf.
[[gnu::format(printf, 1, 2)]] std::string words(const char* format, ...);

/// A difference with its sign, whole; the minus is the true one; none on zero.
std::string signed_words(double value);

/// To the nearest ten: what is known of feet flown hardly deserves more.
double tens(double feet);

/// With its first letter large.
std::string capitalised(std::string text);

}  // namespace glidewright

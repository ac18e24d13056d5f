#include "engine/units/words.hpp"

#include <cctype>
#include <cmath>
#include <cstdarg>
#include <cstdio>

namespace glidewright {

std::string words(const char* format, ...) {
  char text[512];
  va_list arguments;
  va_start(arguments, format);
  std::vsnprintf(text, sizeof text, format, arguments);
  va_end(arguments);
  return text;
}

std::string signed_words(double value) {
  const double whole = std::round(value);
  if (whole == 0.0) return "0";
  return (whole < 0.0 ? "−" : "+") + words("%.0f", std::abs(whole));
}

double tens(double feet) {
  return 10.0 * std::round(feet / 10.0);
}

std::string capitalised(std::string text) {
  if (!text.empty()) text[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(text[0])));
  return text;
}

}  // namespace glidewright

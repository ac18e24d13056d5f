#include "engine/units/words.hpp"

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

}  // namespace glidewright

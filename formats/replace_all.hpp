#pragma once

#include <string>

namespace glidewright {

/// Every `what` in the text; what it is replaced with is not looked at again.
inline void replace_all(std::string& text, const std::string& what, const std::string& with) {
  for (std::size_t at = text.find(what); at != std::string::npos; at = text.find(what, at + with.size()))
    text.replace(at, what.size(), with);
}

}  // namespace glidewright

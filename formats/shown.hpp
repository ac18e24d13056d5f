#pragma once
// Foreign text made fit for a sentence.

#include <string>
#include <string_view>

namespace glidewright {

/// At most 24 characters, what cannot be printed as "?".
inline std::string shown(std::string_view text) {
  constexpr std::size_t k_longest = 24;
  std::string out;
  for (const char c : text.substr(0, k_longest)) out += (c >= ' ' && c < 127) ? c : '?';
  return text.size() > k_longest ? out + "..." : out;
}

}  // namespace glidewright

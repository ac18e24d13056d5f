#include "apps/cli/inputs/asked_answer.hpp"

#include <fmt/format.h>

#include <chrono>
#include <iostream>
#include <string>

#include "apps/cli/terminal.hpp"

namespace glidewright {

std::uint64_t drill_seed(const std::optional<double>& asked) {
  if (asked) return static_cast<std::uint64_t>(*asked);
  constexpr std::uint64_t k_seeds = 100000;
  return static_cast<std::uint64_t>(std::chrono::system_clock::now().time_since_epoch().count()) / 1000 %
             k_seeds +
         1;
}

std::optional<TypedAnswer> ask_for_answer(const char* when, const Page& page) {
  const auto show = [&](const std::string& text) {
    write_standard_output(printed(wrapped(text, {}, page), page));
  };
  for (;;) {
    show(
        fmt::format("low, on or high?  guess, fairly or sure?  where {}, ft along and across?  "
                    "(h s -2400,-900; q ends)",
                    when));
    std::string line;
    if (!std::getline(std::cin, line)) return std::nullopt;
    if (!line.empty() && (line[0] == 'q' || line[0] == 'Q')) return std::nullopt;
    if (const auto typed = read_typed_answer(line)) return typed;
    show("Not understood: such as \"high sure -2400,-900\", or just \"h\".");
  }
}

}  // namespace glidewright

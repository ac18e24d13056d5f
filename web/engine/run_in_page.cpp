// The command line called from the page: arguments in, what it would have printed out.

#include <cstdio>
#include <string>
#include <vector>

#include "apps/cli/command_line.hpp"

/// arguments: one after the other, each ended by a new line, the program's name left out. Standard output goes to
/// /out, standard error to /err of the module's own file system. Returns the exit code.
extern "C" int glidewright_run(const char* arguments) {
  std::vector<std::string> words = {"glidewright"};
  std::string word;
  for (const char* at = arguments; *at != '\0'; ++at) {
    if (*at != '\n') {
      word += *at;
      continue;
    }
    words.push_back(word);
    word.clear();
  }
  std::vector<const char*> pointers;
  pointers.reserve(words.size());
  for (const auto& one : words) pointers.push_back(one.c_str());
  std::freopen("/out", "w", stdout);
  std::freopen("/err", "w", stderr);
  const auto code = glidewright::run_command_line(static_cast<int>(pointers.size()), pointers.data());
  std::fflush(stdout);
  std::fflush(stderr);
  return static_cast<int>(code);
}

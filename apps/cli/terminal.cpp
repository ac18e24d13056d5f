#include "apps/cli/terminal.hpp"

#include <sys/ioctl.h>
#include <unistd.h>

#include <algorithm>
#include <cctype>
#include <cstdio>
#include <cstdlib>
#include <stdexcept>

#include "formats/number.hpp"

namespace glidewright {
namespace {

constexpr int k_narrowest = 60;
constexpr int k_widest = 110;
constexpr int k_width_without_terminal = 100;

std::string environment(const char* name) {
  const char* value = std::getenv(name);
  return value == nullptr ? std::string() : std::string(value);
}

int terminal_width() {
  if (const auto columns = read_number(environment("COLUMNS"));
      columns && *columns >= 1.0 && *columns <= 10000.0) {
    return static_cast<int>(*columns);
  }
  winsize size{};
  if (ioctl(STDOUT_FILENO, TIOCGWINSZ, &size) == 0 && size.ws_col > 0) return size.ws_col;
  return k_width_without_terminal;
}

Charset charset() {
  for (const char* name : {"LC_ALL", "LC_CTYPE", "LANG"}) {
    std::string value = environment(name);
    if (value.empty()) continue;
    std::transform(value.begin(), value.end(), value.begin(),
                   [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
    const bool is_utf8 = value.find("utf-8") != std::string::npos || value.find("utf8") != std::string::npos;
    return is_utf8 ? Charset::utf8 : Charset::ascii;
  }
  return Charset::ascii;
}

Colour colour() {
  const std::string terminal = environment("TERM");
  const bool able = isatty(STDOUT_FILENO) == 1 && !terminal.empty() && terminal != "dumb";
  return able && environment("NO_COLOR").empty() ? Colour::ansi : Colour::none;
}

}  // namespace

OutputKind standard_output_kind() {
  return isatty(STDOUT_FILENO) == 1 ? OutputKind::terminal : OutputKind::pipe;
}

Page standard_output_page() {
  return {std::clamp(terminal_width(), k_narrowest, k_widest), charset(), colour()};
}

void write_standard_output(std::string_view text) {
  const bool written = std::fwrite(text.data(), 1, text.size(), stdout) == text.size();
  if (!written || std::fflush(stdout) != 0) throw std::runtime_error("standard output cannot be written");
}

void write_error(std::string_view sentence) {
  std::string line(sentence);
  std::replace(line.begin(), line.end(), '\n', ' ');
  const std::string shown = printed(line, {k_widest, charset(), Colour::none});
  std::fprintf(stderr, "glidewright: %s\n", shown.c_str());
}

Progress::Progress(std::string_view what) : shown_(isatty(STDERR_FILENO) == 1) {
  say(what);
}

void Progress::say(std::string_view what) {
  if (!shown_) return;
  const std::string line = printed(what, {k_widest, charset(), Colour::none});
  std::fprintf(stderr, "\r\x1b[K%s ...", line.c_str());
  std::fflush(stderr);
}

Progress::~Progress() {
  if (shown_) std::fprintf(stderr, "\r\x1b[K");
}

}  // namespace glidewright

#pragma once
// What stands at the other end of standard output and standard error.

#include <string>
#include <string_view>

#include "apps/cli/words/page.hpp"

namespace glidewright {

enum class OutputKind { terminal, pipe };
OutputKind standard_output_kind();

/// Width from COLUMNS or the terminal (100 elsewhere), 60 to 110; characters from LC_ALL, LC_CTYPE, LANG;
/// colour on a terminal that has it, NO_COLOR unset.
Page standard_output_page();

/// Writes all of it or throws std::runtime_error.
void write_standard_output(std::string_view text);

/// One sentence, "glidewright: ...", fit for a terminal.
void write_error(std::string_view sentence);

/// A line on standard error that says what goes on, only where standard error is a terminal; gone when the
/// value goes.
class Progress {
 public:
  explicit Progress(std::string_view what);
  ~Progress();
  /// Says something else in its place.
  void say(std::string_view what);
  Progress(const Progress&) = delete;
  Progress& operator=(const Progress&) = delete;

 private:
  bool shown_ = false;
};

}  // namespace glidewright

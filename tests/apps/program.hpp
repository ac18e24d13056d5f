#pragma once
// Runs the built program as a user would, from the root of the clone, and keeps what it said.

#include <fcntl.h>
#include <spawn.h>
#include <sys/ioctl.h>
#include <sys/wait.h>
#include <unistd.h>

#include <array>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <memory>
#include <stdexcept>
#include <string>
#include <vector>

#include "tests/where.hpp"

namespace glidewright {

inline const std::filesystem::path k_clone = std::filesystem::path(where::data()).parent_path();

struct ProgramRun {
  int exit_code = -1;  ///< 128 + the signal where one ended it
  std::string output;  ///< what it wrote to standard output
  std::string errors;  ///< to standard error
};

/// NAME=VALUE each; they stand above a plain environment: UTF-8, no terminal, 100 columns.
using Environment = std::vector<std::string>;

namespace program {

inline std::string name_of(const std::string& setting) {
  return setting.substr(0, setting.find('=') + 1);
}

/// What the test was started with, without what would change the words of the output.
inline Environment complete(Environment wanted) {
  for (const char* plain : {"LC_ALL=C.UTF-8", "TERM=dumb", "COLUMNS=100", "NO_COLOR=", "GLIDEWRIGHT_DATA="}) {
    bool given = false;
    for (const auto& one : wanted) given = given || name_of(one) == name_of(plain);
    if (!given) wanted.emplace_back(plain);
  }
  Environment all = wanted;
  for (char** one = environ; *one != nullptr; ++one) {
    bool replaced = false;
    for (const auto& ours : wanted) replaced = replaced || name_of(ours) == name_of(*one);
    if (!replaced) all.emplace_back(*one);
  }
  return all;
}

inline std::vector<char*> pointers(std::vector<std::string>& texts) {
  std::vector<char*> list;
  for (auto& text : texts) list.push_back(text.data());
  list.push_back(nullptr);
  return list;
}

/// Starts the program with the given files as standard output and error; returns its process.
inline pid_t start(std::vector<std::string> arguments, const Environment& wanted, int output, int errors,
                   const char* input = "/dev/null") {
  arguments.insert(arguments.begin(), where::program());
  Environment environment = complete(wanted);
  posix_spawn_file_actions_t actions;
  posix_spawn_file_actions_init(&actions);
  posix_spawn_file_actions_addopen(&actions, STDIN_FILENO, input, O_RDONLY, 0);
  posix_spawn_file_actions_adddup2(&actions, output, STDOUT_FILENO);
  posix_spawn_file_actions_adddup2(&actions, errors, STDERR_FILENO);
  posix_spawn_file_actions_addchdir_np(&actions, k_clone.c_str());
  pid_t process = -1;
  const int failed = posix_spawn(&process, where::program().c_str(), &actions, nullptr,
                                 pointers(arguments).data(), pointers(environment).data());
  posix_spawn_file_actions_destroy(&actions);
  if (failed != 0) throw std::runtime_error("cannot start " + where::program());
  return process;
}

inline int exit_code_of(pid_t process) {
  int status = 0;
  if (waitpid(process, &status, 0) != process) throw std::runtime_error("the program cannot be waited for");
  return WIFSIGNALED(status) ? 128 + WTERMSIG(status) : WEXITSTATUS(status);
}

using File = std::unique_ptr<std::FILE, int (*)(std::FILE*)>;

inline std::string content_of(std::FILE* file) {
  std::string content;
  std::array<char, 65536> part{};
  std::rewind(file);
  for (std::size_t got = 0; (got = std::fread(part.data(), 1, part.size(), file)) > 0;) {
    content.append(part.data(), got);
  }
  return content;
}

}  // namespace program

/// With its output going where no terminal is.
inline ProgramRun run_program(const std::vector<std::string>& arguments, const Environment& environment = {},
                              const char* input = "/dev/null") {
  const program::File output(std::tmpfile(), &std::fclose);
  const program::File errors(std::tmpfile(), &std::fclose);
  if (!output || !errors) throw std::runtime_error("no temporary file can be made");
  ProgramRun run;
  run.exit_code = program::exit_code_of(
      program::start(arguments, environment, fileno(output.get()), fileno(errors.get()), input));
  run.output = program::content_of(output.get());
  run.errors = program::content_of(errors.get());
  return run;
}

/// With standard output on a terminal of 100 columns; standard error goes there as well.
inline ProgramRun run_program_on_a_terminal(const std::vector<std::string>& arguments,
                                            const Environment& environment) {
  const int ours = posix_openpt(O_RDWR | O_NOCTTY | O_CLOEXEC);
  if (ours < 0 || grantpt(ours) != 0 || unlockpt(ours) != 0)
    throw std::runtime_error("no terminal can be made");
  const int its = open(ptsname(ours), O_RDWR | O_NOCTTY | O_CLOEXEC);
  winsize size{};
  size.ws_col = 100;
  size.ws_row = 40;
  ioctl(its, TIOCSWINSZ, &size);
  const pid_t process = program::start(arguments, environment, its, its);
  close(its);
  ProgramRun run;
  std::array<char, 4096> part{};
  // Reading fails when the last who had the terminal open is gone.
  for (ssize_t got = 0; (got = read(ours, part.data(), part.size())) > 0;) {
    run.output.append(part.data(), static_cast<std::size_t>(got));
  }
  close(ours);
  run.exit_code = program::exit_code_of(process);
  return run;
}

/// "a 'b c'" -> a, b c: as far as the examples of --help need a shell.
inline std::vector<std::string> words_of(const std::string& command) {
  std::vector<std::string> words(1);
  bool quoted = false;
  for (const char c : command) {
    if (c == '\'') {
      quoted = !quoted;
    } else if (c == ' ' && !quoted) {
      if (!words.back().empty()) words.emplace_back();
    } else {
      words.back() += c;
    }
  }
  if (words.back().empty()) words.pop_back();
  return words;
}

inline std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> lines;
  std::size_t from = 0;
  for (std::size_t end = 0; (end = text.find('\n', from)) != std::string::npos; from = end + 1) {
    lines.push_back(text.substr(from, end - from));
  }
  if (from < text.size()) lines.push_back(text.substr(from));
  return lines;
}

/// A folder of its own that goes with the test.
class TemporaryFolder {
 public:
  TemporaryFolder() {
    std::string name = (std::filesystem::temp_directory_path() / "glidewright-XXXXXX").string();
    if (mkdtemp(name.data()) == nullptr) throw std::runtime_error("no temporary folder can be made");
    path_ = name;
  }
  ~TemporaryFolder() {
    std::error_code ignored;
    std::filesystem::remove_all(path_, ignored);
  }
  TemporaryFolder(const TemporaryFolder&) = delete;
  TemporaryFolder& operator=(const TemporaryFolder&) = delete;

  /// Writes a file into it and returns its path.
  std::string with(const std::string& name, const std::string& bytes) const {
    const auto path = path_ / name;
    const program::File file(std::fopen(path.c_str(), "wb"), &std::fclose);
    if (!file || std::fwrite(bytes.data(), 1, bytes.size(), file.get()) != bytes.size()) {
      throw std::runtime_error("cannot write " + path.string());
    }
    return path.string();
  }
  std::string path() const { return path_.string(); }

 private:
  std::filesystem::path path_;
};

}  // namespace glidewright

#pragma once
// What may stand on the command line, and reading it. CLI11 does the work; only arguments.cpp sees it,
// because it is all header and makes every source that includes it slow to compile.

#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "apps/cli/exit_code.hpp"
#include "formats/result.hpp"

namespace CLI {
class App;
class Option;
}  // namespace CLI

namespace glidewright {

/// What is to be done once the command line has been read.
using Action = std::function<ExitCode()>;

/// An option, flag or argument of a command: a name for it, cheap to copy, valid as long as the Program.
class Option {
 public:
  explicit Option(CLI::Option* option) : option_(option) {}

  /// What the help shows for its value, such as FT.
  Option type_name(const std::string& shown) const;
  Option required() const;
  /// Not both of them may be given.
  Option excludes(const Option& other) const;
  /// May only be given with the other.
  Option needs(const Option& other) const;
  /// Takes only these words.
  Option one_of(const std::vector<std::string>& words) const;
  /// Takes one value each time it is given, and keeps them all.
  Option repeatable() const;

 private:
  CLI::Option* option_;
};

/// A command of the program, such as `brief`: a name for it, cheap to copy, valid as long as the Program.
class Command {
 public:
  Command(CLI::App* command, Action* chosen) : command_(command), chosen_(chosen) {}

  // "--name" makes an option, "NAME" an argument that is known by its place. What was given is written to
  // `value`, which must live as long as the Program; where nothing was given it stays as it is.
  Option add_option(const std::string& name, std::string& value, const std::string& help) const;
  Option add_option(const std::string& name, std::optional<double>& value, const std::string& help) const;
  Option add_option(const std::string& name, std::vector<std::string>& value, const std::string& help) const;
  Option add_flag(const std::string& name, bool& given, const std::string& help) const;

  /// A command of this command, such as `record add`.
  Command add_command(const std::string& name, const std::string& what_it_does) const;
  /// Stands below the options in the help.
  void footer(const std::string& text) const;
  /// What is done where this command was named.
  void runs(Action action) const;

 private:
  CLI::App* command_;
  Action* chosen_;
};

/// How the program presents itself.
struct ProgramWords {
  std::string name;
  std::string description;
  std::string version;  ///< what --version prints
  std::string footer;   ///< below the list of the commands in the help
};

class Program {
 public:
  explicit Program(const ProgramWords& words);
  ~Program();

  Command add_command(const std::string& name, const std::string& what_it_does);

  /// What the arguments ask for: the action of the command they name, or to print a help or the version.
  /// To be called once. The error is wrong usage, and names the help that would tell more.
  Result<Action> read(int argument_count, const char* const* arguments);

 private:
  struct Parser;
  std::unique_ptr<Parser> parser_;
};

}  // namespace glidewright

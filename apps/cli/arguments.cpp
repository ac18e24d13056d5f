#include "apps/cli/arguments.hpp"

#include <CLI/CLI.hpp>
#include <algorithm>
#include <utility>

#include "apps/cli/terminal.hpp"

namespace glidewright {
namespace {

Error wrong_usage(const CLI::App& program, const std::string& sentence) {
  const auto named = program.get_subcommands();
  const std::string command =
      named.empty() ? program.get_name() : program.get_name() + " " + named.front()->get_name();
  return {sentence + "; see " + command + " --help"};
}

/// An option or argument that was given with nothing in it, as a shell does with a variable that is not set.
/// To take it as not given would hide that.
const CLI::Option* given_empty(const CLI::App& program) {
  for (const auto* command : program.get_subcommands()) {
    for (const auto* option : command->get_options()) {
      const auto& values = option->results();
      if (std::find(values.begin(), values.end(), "") != values.end()) return option;
    }
    if (const auto* option = given_empty(*command)) return option;
  }
  return nullptr;
}

Action print(std::string text) {
  return [text = std::move(text)] {
    write_standard_output(text);
    return ExitCode::done;
  };
}

}  // namespace

Option Option::type_name(const std::string& shown) const {
  return Option(option_->type_name(shown));
}

Option Option::required() const {
  return Option(option_->required());
}

Option Option::excludes(const Option& other) const {
  return Option(option_->excludes(other.option_));
}

Option Option::needs(const Option& other) const {
  return Option(option_->needs(other.option_));
}

Option Option::one_of(const std::vector<std::string>& words) const {
  // Without a description of its own: the help says the words already.
  return Option(option_->check(CLI::IsMember(words).description("")));
}

Option Option::repeatable() const {
  return Option(option_->expected(1)->multi_option_policy(CLI::MultiOptionPolicy::TakeAll));
}

Option Command::add_option(const std::string& name, std::string& value, const std::string& help) const {
  return Option(command_->add_option(name, value, help));
}

Option Command::add_option(const std::string& name, std::optional<double>& value,
                           const std::string& help) const {
  return Option(command_->add_option(name, value, help));
}

Option Command::add_option(const std::string& name, std::vector<std::string>& value,
                           const std::string& help) const {
  return Option(command_->add_option(name, value, help));
}

Option Command::add_flag(const std::string& name, bool& given, const std::string& help) const {
  return Option(command_->add_flag(name, given, help));
}

Command Command::add_command(const std::string& name, const std::string& what_it_does) const {
  // Not named alone: there is nothing that it would do.
  command_->require_subcommand(1);
  return {command_->add_subcommand(name, what_it_does), chosen_};
}

void Command::footer(const std::string& text) const {
  command_->footer(text);
}

void Command::runs(Action action) const {
  command_->callback([chosen = chosen_, action = std::move(action)] { *chosen = action; });
}

struct Program::Parser {
  explicit Parser(const ProgramWords& words) : program(words.description, words.name) {}

  CLI::App program;
  Action chosen;
};

Program::Program(const ProgramWords& words) : parser_(std::make_unique<Parser>(words)) {
  parser_->program.set_version_flag("--version", words.version, "print the version");
  parser_->program.set_help_flag("-h,--help", "print this help");
  parser_->program.footer(words.footer);
}

Program::~Program() = default;

Command Program::add_command(const std::string& name, const std::string& what_it_does) {
  return {parser_->program.add_subcommand(name, what_it_does), &parser_->chosen};
}

Result<Action> Program::read(int argument_count, const char* const* arguments) {
  auto& program = parser_->program;
  try {
    program.parse(argument_count, arguments);
  } catch (const CLI::CallForHelp&) {
    return print(program.help());
  } catch (const CLI::CallForAllHelp&) {
    return print(program.help("", CLI::AppFormatMode::All));
  } catch (const CLI::CallForVersion& version) {
    return print(std::string(version.what()) + "\n");
  } catch (const CLI::ParseError& error) {
    return wrong_usage(program, error.what());
  }
  if (const auto* option = given_empty(program))
    return wrong_usage(program, option->get_name() + " is empty");
  return parser_->chosen ? parser_->chosen : print(program.help());
}

}  // namespace glidewright

#include "apps/cli/command_line.hpp"

#include <algorithm>
#include <exception>

#include "apps/cli/commands/commands.hpp"
#include "apps/cli/terminal.hpp"

namespace glidewright {
namespace {

ExitCode wrong_usage(const CLI::App& program, const CLI::ParseError& error) {
  const auto named = program.get_subcommands();
  const std::string command = named.empty() ? "glidewright" : "glidewright " + named.front()->get_name();
  write_error(std::string(error.what()) + "; see " + command + " --help");
  return ExitCode::wrong_usage;
}

/// An option or argument that was given with nothing in it, as a shell does with a variable that is not set.
/// To take it as not given would hide that.
const CLI::Option* given_empty(const CLI::App& program) {
  for (const auto* command : program.get_subcommands()) {
    for (const auto* option : command->get_options()) {
      const auto& values = option->results();
      if (std::find(values.begin(), values.end(), "") != values.end()) return option;
    }
  }
  return nullptr;
}

ExitCode parse_and_run(int argument_count, const char* const* arguments) {
  CLI::App program(
      "Plan and debrief power-off accuracy landings. An aid on the ground, never guidance in flight.",
      "glidewright");
  program.set_version_flag("--version", "glidewright " GLIDEWRIGHT_VERSION, "print the version");
  program.set_help_flag("-h,--help", "print this help");
  program.footer(
      "glidewright COMMAND --help says more, with examples.\n"
      "Exit code: 0 done, 1 the input is at fault (a plan that cannot be offered counts), 2 wrong usage, 3 "
      "our fault.");
  Chosen chosen;
  add_brief(program, chosen);
  add_debrief(program, chosen);
  add_fly(program, chosen);
  add_demo(program, chosen);
  try {
    program.parse(argument_count, arguments);
  } catch (const CLI::CallForHelp&) {
    write_standard_output(program.help());
    return ExitCode::done;
  } catch (const CLI::CallForAllHelp&) {
    write_standard_output(program.help("", CLI::AppFormatMode::All));
    return ExitCode::done;
  } catch (const CLI::CallForVersion& version) {
    write_standard_output(std::string(version.what()) + "\n");
    return ExitCode::done;
  } catch (const CLI::ParseError& error) {
    return wrong_usage(program, error);
  }
  if (const auto* option = given_empty(program)) {
    return wrong_usage(program, CLI::ValidationError(option->get_name() + " is empty"));
  }
  if (chosen) return chosen();
  write_standard_output(program.help());
  return ExitCode::done;
}

}  // namespace

ExitCode run_command_line(int argument_count, const char* const* arguments) {
  try {
    return parse_and_run(argument_count, arguments);
  } catch (const std::bad_alloc&) {
    write_error("out of memory");
  } catch (const std::exception& error) {
    write_error(std::string("this should not have happened: ") + error.what());
  } catch (...) {
    write_error("this should not have happened");
  }
  return ExitCode::our_fault;
}

}  // namespace glidewright

#include "apps/cli/command_line.hpp"

#include <algorithm>
#include <array>
#include <exception>
#include <new>
#include <string>
#include <string_view>

#include "apps/cli/commands/commands.hpp"
#include "apps/cli/terminal.hpp"

namespace glidewright {
namespace {

ProgramWords words() {
  ProgramWords said;
  said.name = "glidewright";
  said.description =
      "Plan and debrief power-off accuracy landings. An aid on the ground, never guidance in flight.";
  said.version = "glidewright " GLIDEWRIGHT_VERSION;
  said.footer =
      "glidewright COMMAND --help says more, with examples.\n"
      "Exit code: 0 done, 1 the input is at fault (a plan that cannot be offered counts), 2 wrong usage, 3 "
      "our fault.";
  return said;
}

struct NamedCommand {
  std::string_view name;
  void (*add)(Program& program);
};
constexpr std::array k_commands = {NamedCommand{"brief", add_brief},
                                   NamedCommand{"band", add_band},
                                   NamedCommand{"debrief", add_debrief},
                                   NamedCommand{"drill", add_drill},
                                   NamedCommand{"desk", add_desk},
                                   NamedCommand{"readiness", add_readiness},
                                   NamedCommand{"record", add_record},
                                   NamedCommand{"school", add_school},
                                   NamedCommand{"fly", add_fly},
                                   NamedCommand{"polar", add_polar},
                                   NamedCommand{"fit", add_fit},
                                   NamedCommand{"convert", add_convert},
                                   NamedCommand{"record-log", add_record_log},
                                   NamedCommand{"runways", add_runways},
                                   NamedCommand{"demo", add_demo},
                                   NamedCommand{"serve", add_serve}};

/// The command that is named first, or else all of them for the help and for what is said of a wrong name. A
/// page asks with every move of the hand, and to set up the options of all commands takes a millisecond or
/// two of that.
void add_commands(Program& program, std::string_view first) {
  const auto named =
      std::find_if(k_commands.begin(), k_commands.end(), [&](const auto& one) { return one.name == first; });
  if (named != k_commands.end()) return named->add(program);
  for (const NamedCommand& one : k_commands) one.add(program);
}

ExitCode read_and_run(int argument_count, const char* const* arguments) {
  Program program(words());
  add_commands(program, argument_count > 1 ? arguments[1] : "");
  const auto action = program.read(argument_count, arguments);
  if (!action) {
    write_error(action.error().sentence);
    return ExitCode::wrong_usage;
  }
  return (*action)();
}

}  // namespace

ExitCode run_command_line(int argument_count, const char* const* arguments) {
  try {
    return read_and_run(argument_count, arguments);
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

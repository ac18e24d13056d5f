#include "apps/cli/command_line.hpp"

#include <exception>
#include <new>
#include <string>

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

ExitCode read_and_run(int argument_count, const char* const* arguments) {
  Program program(words());
  add_brief(program);
  add_band(program);
  add_debrief(program);
  add_drill(program);
  add_desk(program);
  add_readiness(program);
  add_record(program);
  add_school(program);
  add_fly(program);
  add_polar(program);
  add_fit(program);
  add_convert(program);
  add_record_log(program);
  add_runways(program);
  add_demo(program);
  add_serve(program);
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

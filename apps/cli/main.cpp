#include "apps/cli/command_line.hpp"

int main(int argument_count, char** arguments) {
  return static_cast<int>(glidewright::run_command_line(argument_count, arguments));
}

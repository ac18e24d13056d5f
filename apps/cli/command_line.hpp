#pragma once

#include "apps/cli/exit_code.hpp"

namespace glidewright {

/// The whole program. Nothing that goes wrong leaves it otherwise than as one sentence and an exit code.
ExitCode run_command_line(int argument_count, const char* const* arguments);

}  // namespace glidewright

#pragma once

namespace glidewright {

/// How the program ends.
enum class ExitCode { done = 0, input_at_fault = 1, wrong_usage = 2, our_fault = 3 };

}  // namespace glidewright

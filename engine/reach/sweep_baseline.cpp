#define GLIDEWRIGHT_INSTRUCTION_SET sweep_baseline
#define GLIDEWRIGHT_VECTOR_BYTES 16
#define GLIDEWRIGHT_VECTORS 1
#include "engine/lanes/vector.hpp"
#include "engine/reach/sweep_code.hpp"

namespace glidewright {
namespace sweep_baseline {
namespace {
#include "engine/reach/sweep_code.inc"
}  // namespace
}  // namespace sweep_baseline

reach::SweepCode reach::sweep_code_baseline() {
  return {sweep_baseline::turn, sweep_baseline::straight, sweep_baseline::keep};
}

}  // namespace glidewright

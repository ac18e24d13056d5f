#define GLIDEWRIGHT_INSTRUCTION_SET sweep_avx512
#define GLIDEWRIGHT_VECTOR_BYTES 64
#define GLIDEWRIGHT_VECTORS 1
#include "engine/lanes/vector.hpp"
#include "engine/reach/sweep_code.hpp"

namespace glidewright {
namespace sweep_avx512 {
namespace {
#include "engine/reach/sweep_code.inc"
}  // namespace
}  // namespace sweep_avx512

reach::SweepCode reach::sweep_code_avx512() {
  return {sweep_avx512::turn, sweep_avx512::straight, sweep_avx512::keep};
}

}  // namespace glidewright

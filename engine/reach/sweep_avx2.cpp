#define GLIDEWRIGHT_INSTRUCTION_SET sweep_avx2
#define GLIDEWRIGHT_VECTOR_BYTES 32
#define GLIDEWRIGHT_VECTORS 1
#include "engine/lanes/vector.hpp"
#include "engine/reach/sweep_code.hpp"

namespace glidewright {
namespace sweep_avx2 {
namespace {
#include "engine/reach/sweep_code.inc"
}  // namespace
}  // namespace sweep_avx2

reach::SweepCode reach::sweep_code_avx2() {
  return {sweep_avx2::turn, sweep_avx2::straight, sweep_avx2::keep};
}

}  // namespace glidewright

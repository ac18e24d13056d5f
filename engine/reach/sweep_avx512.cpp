#include "engine/reach/sweep_code.hpp"

namespace glidewright::reach {
namespace sweep_avx512 {
namespace {
#include "engine/reach/sweep_code.inc"
}  // namespace
}  // namespace sweep_avx512

SweepCode sweep_code_avx512() {
  return {sweep_avx512::turn, sweep_avx512::straight};
}

}  // namespace glidewright::reach

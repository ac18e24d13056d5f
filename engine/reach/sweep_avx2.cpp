#include "engine/reach/sweep_code.hpp"

namespace glidewright::reach {
namespace sweep_avx2 {
namespace {
#include "engine/reach/sweep_code.inc"
}  // namespace
}  // namespace sweep_avx2

SweepCode sweep_code_avx2() {
  return {sweep_avx2::turn, sweep_avx2::straight};
}

}  // namespace glidewright::reach

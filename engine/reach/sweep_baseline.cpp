#include "engine/reach/sweep_code.hpp"

namespace glidewright::reach {
namespace sweep_baseline {
namespace {
#include "engine/reach/sweep_code.inc"
}  // namespace
}  // namespace sweep_baseline

SweepCode sweep_code_baseline() {
  return {sweep_baseline::turn, sweep_baseline::straight};
}

}  // namespace glidewright::reach

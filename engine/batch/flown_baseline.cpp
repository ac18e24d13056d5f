#define GLIDEWRIGHT_INSTRUCTION_SET lanes_baseline
#define GLIDEWRIGHT_VECTOR_BYTES 16
#define GLIDEWRIGHT_VECTORS 1
#include "engine/batch/boarding.hpp"
#include "engine/batch/instruction_sets.hpp"
#include "engine/lanes/vector.hpp"

namespace glidewright {

void fly_order_baseline(const BatchOrder& order) {
  fly_order<lanes_baseline::Lane, lanes_baseline::k_lanes>(order);
}

}  // namespace glidewright

#define GLIDEWRIGHT_INSTRUCTION_SET lanes_avx2
#define GLIDEWRIGHT_VECTOR_BYTES 32
#define GLIDEWRIGHT_VECTORS 1
#include "engine/batch/boarding.hpp"
#include "engine/batch/instruction_sets.hpp"
#include "engine/lanes/vector.hpp"

namespace glidewright {

void fly_order_avx2(const BatchOrder& order) {
  fly_order<lanes_avx2::Lane, lanes_avx2::k_lanes>(order);
}

}  // namespace glidewright

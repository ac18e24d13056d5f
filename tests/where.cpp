#include "tests/where.hpp"

namespace glidewright::where {

std::string test_data() {
  return GLIDEWRIGHT_TEST_DATA;
}
std::string data() {
  return GLIDEWRIGHT_DATA;
}
std::string program() {
  return GLIDEWRIGHT_PROGRAM;
}

}  // namespace glidewright::where

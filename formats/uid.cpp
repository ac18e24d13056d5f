#include "formats/uid.hpp"

#include <fmt/format.h>

#include <random>

namespace glidewright {

std::string new_uid() {
  std::random_device device;
  std::string uid;
  for (int i = 0; i < 4; ++i) uid += fmt::format("{:08x}", device());
  return uid;
}

}  // namespace glidewright

#include "apps/cli/inputs/cores.hpp"

#include <algorithm>
#include <memory>
#include <thread>

#include "threads/crew.hpp"

namespace glidewright {

ShareOut on_all_cores() {
  const int cores = static_cast<int>(std::max(1U, std::thread::hardware_concurrency()));
  return [crew = std::make_shared<Crew>(cores)](int count, const std::function<void(int)>& piece) {
    crew->work(count, piece);
  };
}

}  // namespace glidewright

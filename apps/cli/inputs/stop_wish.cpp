#include "apps/cli/inputs/stop_wish.hpp"

#include <atomic>
#include <csignal>

namespace glidewright {
namespace {

std::atomic<bool> wished{false};
static_assert(std::atomic<bool>::is_always_lock_free);

extern "C" void note_wish(int signal_number) {
  wished = true;
  std::signal(signal_number, SIG_DFL);
}

}  // namespace

StopWish::StopWish() {
  wished = false;
  std::signal(SIGINT, note_wish);
  std::signal(SIGTERM, note_wish);
}

StopWish::~StopWish() {
  std::signal(SIGINT, SIG_DFL);
  std::signal(SIGTERM, SIG_DFL);
}

bool StopWish::made() {
  return wished;
}

}  // namespace glidewright

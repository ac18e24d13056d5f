#pragma once
// Threads for whoever may start them: programs and measurements. The engine itself starts none.

#include <condition_variable>
#include <functional>
#include <mutex>
#include <thread>
#include <vector>

#include "engine/batch/batch.hpp"

namespace glidewright {

/// A few threads that wait for work and share it out among themselves, the caller among them.
class Crew {
 public:
  /// size: threads that work, the caller counted; at least 1.
  explicit Crew(int size);
  ~Crew();
  Crew(const Crew&) = delete;
  Crew& operator=(const Crew&) = delete;

  int size() const { return static_cast<int>(others_.size()) + 1; }
  /// Calls `share(0)` to `share(shares - 1)`, each once, in any order and on any thread; back when all are
  /// done. `share` must not throw. One caller at a time.
  void work(int shares, const std::function<void(int)>& share);

 private:
  void wait_for_work();
  void take_shares(const std::function<void(int)>& share);

  std::vector<std::thread> others_;
  std::mutex mutex_;
  std::condition_variable work_there_;
  std::condition_variable work_done_;
  const std::function<void(int)>* share_ = nullptr;
  int shares_ = 0;
  int next_ = 0;
  int working_ = 0;
  long rounds_ = 0;
  bool closing_ = false;
};

/// As fly_batch; every flight gives the same bits, however many threads there are.
std::vector<FlownOnce> fly_batch(const BatchRequest& request, Crew& crew);

}  // namespace glidewright

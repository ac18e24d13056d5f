#pragma once
// Takes logs from the queue and debriefs them, one after the other. Any number of them may work on the same
// records, in this program and in others.

#include <condition_variable>
#include <mutex>
#include <string>
#include <thread>

#include "apps/server/parts.hpp"
#include "store/records.hpp"

namespace glidewright {

class QueueWorker {
 public:
  /// `parts` must outlive it. Works until it goes.
  explicit QueueWorker(const ServerParts& parts);
  ~QueueWorker();
  QueueWorker(const QueueWorker&) = delete;
  QueueWorker& operator=(const QueueWorker&) = delete;

  /// Something may have come.
  void wake();

 private:
  void work();
  /// Whether there was any.
  bool do_one();
  void wait();

  const ServerParts& parts_;
  const std::string name_;
  std::mutex mutex_;
  std::condition_variable changed_;
  bool woken_ = false;
  bool ended_ = false;
  std::thread thread_;
};

/// Debriefs the oldest log that waits, on these records; false where there is none or the records fail.
bool debrief_next(Records& records, const ServerParts& parts, const std::string& worker);

}  // namespace glidewright

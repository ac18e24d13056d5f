#include "apps/server/queue_worker.hpp"

#include <chrono>

#include "apps/server/known_to_records.hpp"
#include "formats/uid.hpp"
#include "store/queue.hpp"

namespace glidewright {

bool debrief_next(Records& records, const ServerParts& parts, const std::string& worker) {
  Queue queue(records);
  const auto taken = queue.take(worker, parts.now_unix_s());
  if (!taken || !*taken) return false;
  const auto& [job, bytes] = **taken;
  const auto known = known_to_records(records, job, bytes);
  // Where the database is away, the job comes again by itself.
  if (!known && records.database_failed()) return true;
  const auto flight =
      known ? parts.debrief(job.log_name, bytes, job.asked, *known) : Result<NewFlight>(known.error());
  if (!flight) {
    (void)queue.fail(job, worker, flight.error().sentence, parts.now_unix_s());
    return true;
  }
  const auto filed = queue.finish(job, worker, *flight, parts.now_unix_s());
  // Such as a student who has gone into the trash.
  if (!filed && !records.database_failed())
    (void)queue.fail(job, worker, filed.error().sentence, parts.now_unix_s());
  return true;
}

QueueWorker::QueueWorker(const ServerParts& parts) : parts_(parts), name_(new_uid()) {
  thread_ = std::thread([this] { work(); });
}

QueueWorker::~QueueWorker() {
  {
    const std::lock_guard lock(mutex_);
    ended_ = true;
  }
  changed_.notify_all();
  thread_.join();
}

void QueueWorker::wake() {
  {
    const std::lock_guard lock(mutex_);
    woken_ = true;
  }
  changed_.notify_all();
}

void QueueWorker::wait() {
  // Another server's jobs wake nobody here.
  constexpr std::chrono::seconds k_look_again(1);
  std::unique_lock lock(mutex_);
  changed_.wait_for(lock, k_look_again, [this] { return woken_ || ended_; });
  woken_ = false;
}

void QueueWorker::work() {
  std::optional<Records> records;
  const auto ended = [this] {
    const std::lock_guard lock(mutex_);
    return ended_;
  };
  while (!ended()) {
    if (!records) {
      auto opened = Records::open(parts_.records);
      if (opened) records.emplace(std::move(*opened));
    }
    if (!records || !debrief_next(*records, parts_, name_)) wait();
  }
}

}  // namespace glidewright

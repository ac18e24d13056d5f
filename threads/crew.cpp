#include "threads/crew.hpp"

#include <algorithm>

namespace glidewright {

Crew::Crew(int size) {
  for (int i = 1; i < size; ++i) others_.emplace_back([this] { wait_for_work(); });
}

Crew::~Crew() {
  {
    const std::lock_guard lock(mutex_);
    closing_ = true;
  }
  work_there_.notify_all();
  for (auto& thread : others_) thread.join();
}

void Crew::work(int shares, const std::function<void(int)>& share) {
  {
    const std::lock_guard lock(mutex_);
    share_ = &share;
    shares_ = shares;
    next_ = 0;
    ++rounds_;
  }
  work_there_.notify_all();
  take_shares(share);
  std::unique_lock lock(mutex_);
  work_done_.wait(lock, [this] { return working_ == 0; });
  share_ = nullptr;
}

void Crew::wait_for_work() {
  long seen = 0;
  std::unique_lock lock(mutex_);
  while (true) {
    work_there_.wait(lock, [&] { return closing_ || (rounds_ != seen && share_ != nullptr); });
    if (closing_) return;
    seen = rounds_;
    const auto& share = *share_;
    ++working_;
    lock.unlock();
    take_shares(share);
    lock.lock();
    if (--working_ == 0) work_done_.notify_one();
  }
}

void Crew::take_shares(const std::function<void(int)>& share) {
  while (true) {
    int mine;
    {
      const std::lock_guard lock(mutex_);
      if (next_ >= shares_) return;
      mine = next_++;
    }
    share(mine);
  }
}

std::vector<FlownOnce> fly_batch(const BatchRequest& request, Crew& crew) {
  return fly_batch(request,
                   [&](int count, const std::function<void(int)>& piece) { crew.work(count, piece); });
}

}  // namespace glidewright

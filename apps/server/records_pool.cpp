#include "apps/server/records_pool.hpp"

namespace glidewright {

RecordsPool::Lent::~Lent() {
  if (!records_) return;
  const std::lock_guard lock(pool_->mutex_);
  pool_->idle_.push_back(std::move(records_));
}

Result<RecordsPool::Lent> RecordsPool::lend() {
  {
    const std::lock_guard lock(mutex_);
    if (!idle_.empty()) {
      auto records = std::move(idle_.back());
      idle_.pop_back();
      return Lent(*this, std::move(records));
    }
  }
  auto opened = Records::open(where_);
  if (!opened) return opened.error();
  return Lent(*this, std::make_unique<Records>(std::move(*opened)));
}

}  // namespace glidewright

#pragma once
// Connections to the records, lent to one request at a time.

#include <memory>
#include <mutex>
#include <string>
#include <vector>

#include "store/records.hpp"

namespace glidewright {

class RecordsPool {
 public:
  explicit RecordsPool(std::string where) : where_(std::move(where)) {}

  /// Goes back to the pool when it is let go.
  class Lent {
   public:
    Lent(RecordsPool& pool, std::unique_ptr<Records> records) : pool_(&pool), records_(std::move(records)) {}
    ~Lent();
    Lent(Lent&&) noexcept = default;
    Lent& operator=(Lent&&) = delete;
    Records& operator*() const { return *records_; }

   private:
    RecordsPool* pool_;
    std::unique_ptr<Records> records_;
  };

  Result<Lent> lend();

 private:
  std::string where_;
  std::mutex mutex_;
  std::vector<std::unique_ptr<Records>> idle_;
};

}  // namespace glidewright

#pragma once
// Bad input is normal: functions at the edges return Result<T>.

#include <optional>
#include <string>
#include <utility>
#include <variant>

namespace glidewright {

/// One plain sentence for a pilot: what is wrong, where (file:line or field), what would be right.
struct Error {
  std::string sentence;
};

/// A value or an Error; a small std::expected until the compiler has one.
template <class T>
class [[nodiscard]] Result {
 public:
  Result(T value) : content_(std::move(value)) {}
  Result(Error error) : content_(std::move(error)) {}

  explicit operator bool() const { return std::holds_alternative<T>(content_); }
  T& operator*() & { return std::get<T>(content_); }
  const T& operator*() const& { return std::get<T>(content_); }
  T&& operator*() && { return std::get<T>(std::move(content_)); }
  T* operator->() { return &std::get<T>(content_); }
  const T* operator->() const { return &std::get<T>(content_); }
  const Error& error() const { return std::get<Error>(content_); }

 private:
  std::variant<T, Error> content_;
};

}  // namespace glidewright

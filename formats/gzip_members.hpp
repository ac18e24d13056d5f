#pragma once
// What a .gz holds, piece by piece. The program asks zlib (gzip_members.cpp); the page has its own
// (web/engine).

#include <memory>
#include <string_view>

namespace glidewright {

enum class Inflated { more, member_ends, input_ends, damaged, no_memory };

/// Members of gzip, one after the other, their checksums compared. Source: RFC 1952.
class GzipMembers {
 public:
  /// The bytes must stay where they are as long as this is used.
  explicit GzipMembers(std::string_view bytes);
  ~GzipMembers();
  GzipMembers(const GzipMembers&) = delete;
  GzipMembers& operator=(const GzipMembers&) = delete;

  /// The next bytes out, at most 64 KB, good until the next call; `state` says how it goes on.
  std::string_view next(Inflated& state);
  /// Allowed after `member_ends`.
  void start_next_member();
  /// What has not been looked at yet.
  std::string_view left() const;

 private:
  struct State;
  std::unique_ptr<State> state_;
};

}  // namespace glidewright

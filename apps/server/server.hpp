#pragma once
// The page and the records over HTTP: on this machine for whoever sits at it, elsewhere only with sign-in and
// TLS.

#include <memory>
#include <string>

#include "apps/server/parts.hpp"

namespace glidewright {

class Server {
 public:
  /// Listens, but answers nothing before `serve`. Refused where the door is not safe: an address other than
  /// loopback without TLS or without anybody who could sign in.
  static Result<Server> open(const Door& door, const ServerParts& parts);
  Server(Server&&) noexcept;
  Server& operator=(Server&&) noexcept;
  ~Server();

  /// "http://127.0.0.1:8080/".
  const std::string& url() const;
  /// Until `stop` is called from another thread or a signal.
  void serve();
  void stop();

 private:
  struct Inside;
  explicit Server(std::unique_ptr<Inside> inside);
  std::unique_ptr<Inside> inside_;
};

}  // namespace glidewright
